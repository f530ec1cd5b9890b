using Locum.Model;
using Locum.Simulation;
using Locum.Wire;

namespace Locum.Auditing;

/// <summary>A node of SAE J1939 in one part of a capture: its claims, its answers to requests and its transfers.</summary>
internal sealed class NodeReplay : Replay
{
    // An answer to a request for claims comes sooner than that.
    private const long AskedUs = 1_000_000;
    private const long LongestClaimUs = 250_000;

    // A transfer goes on or ends within that (rule J8).
    private const long LongestWaitUs = 1_250_000;

    private readonly NodeState _state;
    private readonly Node _node;
    private long _askedUs = long.MinValue / 2;
    private long _unclearUs;
    private int _unanswered;
    private readonly List<(long FromUs, long UntilUs)> _held = [];
    private long? _heldFromUs = long.MinValue / 2;
    private bool _doubt;

    public NodeReplay(PartView view, ModuleTrack module, Node node, FrameTrack row)
        : base(view, module, row)
    {
        _node = node;
        _unclearUs = module.Part.StartUs;
        _state = new NodeState(node, (frame, at) => IsSending(frame, at), at => DueUs = at);
        var rows = new[] { node.Request, node.RequestToAll, node.Claim }.Concat(node.Connection is { } connection ? [connection] : []);
        Run([.. rows.SelectMany(r => module.Hearings[r].Requests(r))], view.SentBy(node, row.Planned));
        if (_heldFromUs is { } open)
            _held.Add((open, long.MaxValue / 2));
    }

    /// <summary>Whiles in which the node has no address, or nobody can tell, µs.</summary>
    public IReadOnlyList<(long FromUs, long UntilUs)> Held => _held;

    protected override (CanId Id, byte[] Data)? Wanted() => DueUs is null ? null : _state.Compose();

    protected override void Take(HeardRequest heard)
    {
        if (!Module.Stayed(Row.Modes, heard.TimeUs, heard.TimeUs))
            Lose(heard.TimeUs);
        if (heard.Row == _node.Request || heard.Row == _node.RequestToAll)
            _askedUs = heard.TimeUs;
        else if (heard.Row == _node.Connection)
            _unclearUs = heard.TimeUs;
        if (!IsKnown)
        {
            _unanswered++;
        }
        else
        {
            Requests++;
            _doubt = false;
            _state.Take(heard.Row, heard.Id, heard.Data, heard.TimeUs);
            if (_doubt)
                Lose(heard.TimeUs);
        }
        Note(heard.TimeUs);
    }

    protected override void Accepted() => _state.Accepted();

    protected override void Left(long at)
    {
        if (_state.Flies is { } id)
        {
            _state.Done(id);
            _state.Left(at);
        }
        Note(at);
    }

    // An own claim that nobody asked for is the first one. Other frames are sent by a node that has its address, but in the
    // middle of what they belong to nobody can tell what it still wants to send.
    protected override bool Learn(SentAnswer seen)
    {
        if (!Module.Stayed(Row.Modes, seen.EndUs, seen.EndUs) || (byte)seen.Id.Value == Node.Nobody)
            return false;
        var group = ParameterGroup.Of(seen.Id);
        var asked = _unanswered;
        var isFirst = group is ParameterGroup.AddressClaimed && asked is 0 && seen.StartUs - _askedUs > AskedUs;
        _unanswered = Math.Max(0, asked - 1);
        if (group is ParameterGroup.Connection or ParameterGroup.Packets)
            _unclearUs = seen.EndUs;
        if (!isFirst && (asked > 1 || seen.StartUs - _unclearUs < LongestWaitUs))
            return false;
        Own(isFirst ? seen.EndUs : seen.EndUs - LongestClaimUs);
        RunTimers(seen.EndUs);
        return true;
    }

    protected override void Reset() => _state.Reset();

    protected override void Lose(long now)
    {
        base.Lose(now);
        _unclearUs = now;
        Note(now);
    }

    protected override void RunTimers(long now)
    {
        while (_state.TimerUs is { } timer && timer <= now)
        {
            _state.Tick(timer);
            Note(timer);
        }
    }

    private void Own(long claimedUs)
    {
        _state.Reset();
        _state.Start(claimedUs);
        _state.Accepted();
        _state.Done(Row.Frame.Id);
        _state.Left(claimedUs);
        DueUs = null;
        IsKnown = true;
        Note(claimedUs);
    }

    private void Note(long now)
    {
        var held = !IsKnown || _state.Holds;
        if (held)
        {
            _heldFromUs ??= now;
        }
        else if (_heldFromUs is { } from)
        {
            _held.Add((from, now));
            _heldFromUs = null;
        }
    }

    // Whether a frame that may be silent is sent or refused nobody can tell.
    private bool IsSending(int frame, long at)
    {
        if (Module.Frames[frame] is not { } track)
            return false;
        var silent = Module.Stayed(~track.Modes, at, at);
        _doubt |= !silent && !Module.Stayed(track.Modes, at, at);
        return !silent;
    }
}
