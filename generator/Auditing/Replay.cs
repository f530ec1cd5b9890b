using Locum.Model;
using Locum.Reporting;

namespace Locum.Auditing;

/// <summary>Plays what a part of a module heard to the simulator's state of it, and holds what it would send against what was sent.</summary>
/// <remarks>The order is the capture's: on one bus it is certain even where times are coarse. Times decide only what is late.</remarks>
internal abstract class Replay
{
    private readonly PartView _view;
    private readonly List<(long AtUs, string What)> _missing = [];
    private readonly List<(long AtUs, string What)> _late = [];
    private readonly List<(long AtUs, string What)> _wrong = [];
    private IReadOnlyList<SentAnswer> _sent = [];
    private int _next;
    private long _acceptedDueUs;
    private bool _accepted;

    protected Replay(PartView view, ModuleTrack module, FrameTrack row) => (_view, Module, Row) = (view, module, row);

    protected ModuleTrack Module { get; }

    /// <summary>Its row in the board's table of frames.</summary>
    protected FrameTrack Row { get; }

    /// <summary>False while nobody can tell what the state is.</summary>
    protected bool IsKnown { get; set; }

    /// <summary>When the state wants its next frame to be sent; null while it wants none. The state's "ask" sets it.</summary>
    protected long? DueUs { get; set; }

    /// <summary>Frames that were heard and may ask for something.</summary>
    protected int Requests { get; set; }

    /// <summary>Exchanges that a request ended before they were answered.</summary>
    protected int Unjudged { get; set; }

    /// <summary>How much later than due a frame may come, beside the tolerance of the capture, µs.</summary>
    protected virtual long LateUs => 0;

    /// <summary>Runs it through; once.</summary>
    protected void Run(IReadOnlyList<HeardRequest> heard, IReadOnlyList<SentAnswer> sent)
    {
        _sent = sent;
        var events = heard.Select(h => (h.Order, At: h.TimeUs, Ends: h.TimeUs, Do: (Action)(() => TakeNow(h)))).Concat(sent.Select(s => (s.Order, At: s.StartUs, Ends: s.EndUs, Do: (Action)(() => See(s)))));
        var last = long.MinValue;
        foreach (var (_, at, ends, act) in events.OrderBy(e => e.Order))
        {
            // When the row may have stopped in between, it may have forgotten everything.
            if (IsKnown && !Module.Stayed(Row.Modes, Math.Min(last, at), at))
            {
                _accepted = false;
                Lose(at);
            }
            last = ends;
            RunTimers(at);
            AcceptEarly(at);
            act();
        }
        CheckDue(_view.EndUs(Row));
        RunTimers(_view.Part.EndUs);
    }

    public void Tell(Sink sink, Text.Span span)
    {
        Add(FindingKind.AnswerMissing, _missing);
        Add(FindingKind.AnswerLate, _late);
        Add(FindingKind.AnswerWrong, _wrong);
        if (Unjudged > 0)
            sink.Skip($"{Words.Count(Unjudged, "exchange")} of {Row.Frame.Name}: the tester asked again before it had its answer, up to a pause");

        void Add(FindingKind kind, List<(long AtUs, string What)> found)
        {
            if (found.Count > 0)
                sink.Add(kind, Row, $"{found[0].What}; {Words.Count(found.Count, "time")} at {Words.Count(Requests, "request frame")}", found[0].AtUs, found[^1].AtUs, found.Count, span);
        }
    }

    /// <summary>The frame that the state would send; null when it wants none.</summary>
    protected abstract (Wire.CanId Id, byte[] Data)? Wanted();

    protected abstract void Take(HeardRequest heard);

    /// <summary>The wanted frame is in a controller.</summary>
    protected abstract void Accepted();

    /// <summary>It was sent.</summary>
    protected abstract void Left(long at);

    protected abstract void RunTimers(long now);

    /// <summary>Makes the simulator's state a new one.</summary>
    protected abstract void Reset();

    /// <summary>From here on nobody can tell what the state is.</summary>
    protected virtual void Lose(long now)
    {
        Reset();
        DueUs = null;
        IsKnown = false;
    }

    /// <summary>A frame seen while nothing is known: true if the state is known from here on.</summary>
    protected virtual bool Learn(SentAnswer seen) => false;

    private void TakeNow(HeardRequest heard)
    {
        CheckDue(heard.TimeUs);
        Take(heard);
        AcceptEarly(heard.TimeUs);
    }

    // The next frame on the bus may have been in a controller for as long as it was due.
    private void AcceptEarly(long now)
    {
        if (_accepted || !IsKnown || DueUs is not { } due || due > now + _view.Tolerance.InstantUs || _next >= _sent.Count || Wanted() is not { } wanted || !_sent[_next].Is(wanted.Id, wanted.Data))
            return;
        (_accepted, _acceptedDueUs) = (true, due);
        DueUs = null;
        Accepted();
    }

    private void See(SentAnswer seen)
    {
        _next++;
        if (!IsKnown)
        {
            _accepted = false;
            if (Learn(seen))
                DueUs = null;
            return;
        }
        if (!_accepted && DueUs is { } due)
        {
            var wanted = Wanted();
            (_accepted, _acceptedDueUs) = (true, due);
            DueUs = null;
            if (wanted is not { } it || !seen.Is(it.Id, it.Data))
                _wrong.Add((seen.StartUs, $"answered {seen}, described is {(wanted is { } other ? new SentAnswer(0, 0, 0, other.Id, other.Data).ToString(seen.Id) : "nothing")}"));
            if (wanted is not null)
                Accepted();
        }
        if (!_accepted)
        {
            _wrong.Add((seen.StartUs, $"an answer that nobody asked for ({seen})"));
            Lose(seen.EndUs);
            return;
        }
        _accepted = false;
        var late = Row.Bus!.Idle(_acceptedDueUs, seen.StartUs);
        if (late > Allowed)
            _late.Add((seen.StartUs, $"answered {Words.Time(late)} late"));
        Left(seen.EndUs);
    }

    // What was not sent in time before the next thing happened will not come.
    private void CheckDue(long now)
    {
        if (!IsKnown || _accepted || DueUs is not { } due || Row.Bus!.Idle(due, now) <= Allowed || !Module.Stayed(Row.Modes, due, now) || _view.MayBeGuarded(due, now))
            return;
        _missing.Add((due, "no answer"));
        Lose(now);
    }

    private long Allowed => _view.Tolerance.InstantUs + Tolerance.ReactionUs + LateUs;
}
