using Locum.Model;
using Locum.Simulation;

namespace Locum.Auditing;

/// <summary>A channel for testers in one part of a capture.</summary>
internal sealed class ChannelReplay : Replay
{
    private readonly ModuleTrack _module;
    private readonly FrameTrack _answer;
    private readonly ChannelState _state;
    private readonly Channel _channel;
    private bool _known;

    public ChannelReplay(PartView view, ModuleTrack module, Channel channel, FrameTrack answer)
        : base(view, module, answer)
    {
        (_module, _channel, _answer) = (module, channel, answer);
        _state = new ChannelState(channel, answer.Frame.Format is not Wire.FrameFormat.Classic, at => DueUs = at);
        Run(
            [.. module.Hearings[channel.Request].Requests(channel.Request), .. channel.Functional is { } all ? module.Hearings[all].Requests(all) : []],
            [.. answer.Seen.Select(s => new SentAnswer(answer.Order(s), s.StartUs, answer.EndUs(s), answer.Frame.Id, answer.Data(s).ToArray()))]);
    }

    protected override bool IsKnown => _known;

    protected override long LateUs => (long)(Tolerance.PeriodShare * _channel.AnswerAfterUs);

    protected override (Wire.CanId Id, byte[] Data)? Wanted() => DueUs is null ? null : (_answer.Frame.Id, _state.Compose());

    // A capture may begin in the middle of an exchange; what a first request or single frame asks for begins one.
    protected override void Take(HeardRequest heard)
    {
        if (!_module.Stayed(_answer.Modes, heard.TimeUs, heard.TimeUs))
        {
            // Nobody can tell whether it listened.
            Lose(heard.TimeUs);
            return;
        }
        _known |= heard.Data.Length > 0 && heard.Data[0] >> 4 is 0 or 1;
        if (!_known)
            return;
        Requests++;
        _state.Take(heard.Data, heard.Row != _channel.Request, heard.TimeUs);
    }

    protected override void Accepted() => _state.Accepted();

    protected override void Left(long at)
    {
        if (_state.Leaving)
            _state.Left(at);
    }

    protected override void Forget(long now)
    {
        _state.Reset();
        DueUs = null;
    }

    protected override void Lose(long now)
    {
        Forget(now);
        _known = false;
    }

    protected override void RunTimers(long now)
    {
        while (new[] { _state.TimerUs, _state.SessionEndsUs }.Min() is { } timer && timer <= now)
            _state.Tick(timer);
    }
}
