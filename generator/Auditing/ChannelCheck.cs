using Locum.Model;
using Locum.Reporting;
using Locum.Simulation;

namespace Locum.Auditing;

/// <summary>Plays a capture's requests to a channel of the simulator, and holds what the channel would send against what was sent.</summary>
internal sealed class ChannelCheck(PartView view, Sink sink)
{
    public void Check(ModuleTrack module)
    {
        foreach (var channel in module.Module.Channels)
            if (module.Frames[channel.Frame] is { Bus: not null } answer)
                new Replay(view, module, channel, answer).Tell(sink);
    }

    private sealed class Replay
    {
        private readonly PartView _view;
        private readonly ModuleTrack _module;
        private readonly FrameTrack _answer;
        private readonly ChannelState _state;
        private readonly Channel _channel;
        private readonly List<(long AtUs, string What)> _missing = [];
        private readonly List<(long AtUs, string What)> _late = [];
        private readonly List<(long AtUs, string What)> _wrong = [];
        private long? _dueUs;
        private int _requests;

        public Replay(PartView view, ModuleTrack module, Channel channel, FrameTrack answer)
        {
            (_view, _module, _channel, _answer) = (view, module, channel, answer);
            _state = new ChannelState(channel, answer.Frame.Format is not Wire.FrameFormat.Classic, at => _dueUs = at);
            var requests = Requests(channel.Request, false).Concat(channel.Functional is { } all ? Requests(all, true) : []);
            var answers = answer.Seen.Select((s, i) => (AtUs: s.StartUs, Do: (Action)(() => Answer(i))));
            foreach (var (at, act) in requests.Concat(answers).OrderBy(e => e.AtUs))
            {
                RunTimers(at);
                act();
            }
            CheckDue(view.EndUs(answer));
        }

        public void Tell(Sink sink)
        {
            Add(FindingKind.AnswerMissing, _missing);
            Add(FindingKind.AnswerLate, _late);
            Add(FindingKind.AnswerWrong, _wrong);

            void Add(FindingKind kind, List<(long AtUs, string What)> found)
            {
                if (found.Count > 0)
                    sink.Add(kind, _answer, $"{found[0].What}; {found.Count} times at {Words.Count(_requests, "request frame")}", found[0].AtUs, found[^1].AtUs, found.Count, _channel.Span);
            }
        }

        private IEnumerable<(long AtUs, Action Do)> Requests(int row, bool functional)
        {
            var hearing = _module.Hearings[row];
            for (var i = 0; i < hearing.Count; i++)
            {
                var reception = i;
                yield return (hearing.TimeUs(i), () => Request(hearing, reception, functional));
            }
        }

        private void Request(Hearing hearing, int reception, bool functional)
        {
            var now = hearing.TimeUs(reception);
            CheckDue(now);
            if (!_module.Stayed(_answer.Modes, now, now))
            {
                // Nobody can tell whether it listened.
                _state.Reset();
                _dueUs = null;
                return;
            }
            _requests++;
            _state.Take(hearing.Data(reception).ToArray(), functional, now);
        }

        private void Answer(int index)
        {
            var seen = _answer.Seen[index];
            var data = _answer.Data(seen);
            if (_dueUs is not { } due)
            {
                // Before the first request the capture may have begun in the middle of an exchange.
                if (_requests > 0)
                    _wrong.Add((seen.StartUs, $"an answer that nobody asked for ({Row(data)})"));
                return;
            }
            var late = _answer.Bus!.Idle(due, seen.StartUs);
            if (late > Allowed)
                _late.Add((seen.StartUs, $"answered {Words.Time(late)} late"));
            var expected = _state.Compose();
            if (!data.SequenceEqual(expected))
                _wrong.Add((seen.StartUs, $"answered {Row(data)}, described is {Row(expected)}"));
            _dueUs = null;
            _state.Accepted();
            _state.Left(seen.UntilUs);
        }

        // What was not sent in time before the next thing happened will not come.
        private void CheckDue(long now)
        {
            if (_dueUs is not { } due || _answer.Bus!.Idle(due, now) <= Allowed || _view.MayBeGuarded(due, now))
                return;
            _missing.Add((due, "no answer"));
            _state.Reset();
            _dueUs = null;
        }

        private void RunTimers(long now)
        {
            while (new[] { _state.TimerUs, _state.SessionEndsUs }.Min() is { } timer && timer <= now)
                _state.Tick(timer);
        }

        private long Allowed => _view.Tolerance.InstantUs + Tolerance.ReactionUs + (long)(Tolerance.PeriodShare * _channel.AnswerAfterUs);

        private static string Row(ReadOnlySpan<byte> data) => string.Join(' ', data.ToArray().Select(b => b.ToString("X2")));
    }
}
