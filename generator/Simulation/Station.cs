using Locum.Model;
using Locum.Planning;
using Locum.Wire;

namespace Locum.Simulation;

/// <summary>A board while it runs: settles inputs, changes modes, releases and offers frames (rules 3 to 14).</summary>
internal sealed class Station
{
    private readonly BoardPlan _plan;
    private readonly int _number;
    private readonly IReadOnlyList<SimulatedBus> _buses;
    private readonly InputState[] _inputs;
    private readonly ModuleState[] _modules;
    private readonly FrameState[] _frames;
    private readonly OutputState[] _outputs;
    private readonly PriorityQueue<FrameState, (long Due, int Row)> _due = new();
    private readonly EventRouter _events;
    private readonly SortedSet<int> _pending = [];
    private readonly HashSet<FrameState> _byPeriod = [];
    private readonly List<(int Bus, CanId Id, byte[] Data)> _inbox = [];
    private readonly FrameState[] _answers;
    private readonly FrameState[] _nodes;
    private readonly int[] _mailboxes;
    private readonly Func<int, uint>[] _counterValues;
    private readonly GuardState _guards;
    private readonly Action<SentFrame> _takenBack;
    private readonly KeptState? _keptBefore;
    private bool _stepped;

    /// <param name="buses">The bus behind each of the board's bus indexes.</param>
    /// <param name="takenBack">Told of frames that were accepted and will not be sent.</param>
    /// <param name="now">Power-on, or the time of a reset.</param>
    /// <param name="kept">What outlived the reset; null: nothing.</param>
    /// <param name="cause">Why the board starts.</param>
    public Station(BoardPlan plan, int number, IReadOnlyList<SimulatedBus> buses, Action<SentFrame> takenBack, long now = 0, KeptState? kept = null, ResetCause cause = ResetCause.Power)
    {
        _plan = plan;
        _number = number;
        _buses = buses;
        _inputs = [.. plan.Inputs.Select(i => new InputState(i))];
        _modules = [.. plan.Modules.Select(m => new ModuleState(m))];
        var counters = plan.Modules.Select(m => m.Module.Counters.Select(c => new CounterState(c)).ToArray()).ToArray();
        _counterValues = [.. counters.Select(own => (Func<int, uint>)(c => own[c].Value))];
        _frames = [.. plan.Frames.Select(f => new FrameState(f, counters[f.Owner.Index]))];
        _outputs = [.. plan.Outputs.Select(o => new OutputState(o))];
        _events = new EventRouter(_frames);
        _answers = [.. plan.Modules.SelectMany(m => m.Module.Channels.Select(c => OpenChannel(m, c)))];
        _nodes = [.. plan.Modules.SelectMany(m => m.Module.Nodes.Select(n => OpenNode(m, n)))];
        _mailboxes = new int[plan.Buses.Count];
        _takenBack = takenBack;
        _guards = new GuardState(plan, kept, cause, now);
        _keptBefore = kept;
        foreach (var module in _modules)
            Enter(module, plan.Guards.Resumes && cause is ResetCause.Watchdog && kept is not null ? kept.Modes[module.Planned.Index] : 0, now);
        WantOutputs(now);
    }

    /// <summary>What the LED shows.</summary>
    public Silence Silence => _guards.Reason is Silence.None && _guards.OutputsOff ? Silence.OutputsOff : _guards.Reason;

    /// <summary>True if an output is on (rule O3).</summary>
    public bool IsOn(int output) => _outputs[output].On && _guards.Reason is Silence.None && !_guards.OutputsOff;

    /// <summary>What a reset would leave; null before the first step.</summary>
    public KeptState? Kept => _stepped ? new KeptState(_guards.ForGood, [.. _modules.Select(m => m.Mode.Index)], _guards.BrownOuts) : _keptBefore;

    public IReadOnlyList<ModuleState> Modules => _modules;

    public IReadOnlyList<long> Skipped => [.. _frames.Select(f => f.Skipped)];

    /// <summary>The next time at which this board has something to do by itself, or null.</summary>
    public long? NextDue()
    {
        DropStale();
        var next = NextChange();
        if (_due.TryPeek(out _, out var first) && (next is null || first.Due < next))
            next = first.Due;
        if (_guards.Next() is { } guard && (next is null || guard < next))
            next = guard;
        foreach (var output in _outputs)
            if (output.NextUs is { } turn && (next is null || turn < next))
                next = turn;
        return _events.Next() is { } events && (next is null || events < next) ? events : next;
    }

    /// <summary>A frame of another station has left a bus; it is taken at the next step.</summary>
    public void Hear(SimulatedBus bus, CanId id, byte[] data)
    {
        for (var i = 0; i < _buses.Count; i++)
            if (_buses[i] == bus)
                _inbox.Add((i, id, data));
    }

    public void Step(long now, IReadOnlyList<bool> active)
    {
        while (NextChange() is { } missed && missed < now)
            Settle(missed);
        foreach (var answer in _answers.Where(a => a.Channel!.Leaving && !a.InMailbox))
            answer.Channel!.Left(now);
        foreach (var node in _nodes.Where(n => n.Node!.Flies is { } id && !n.Node.IsInMailbox(id)))
            node.Node!.Left(now);
        foreach (var (bus, id, data) in _inbox)
        {
            _guards.Hear(bus, id);
            foreach (var module in _modules)
                Take(module, bus, id, data, now);
        }
        _inbox.Clear();
        for (var i = 0; i < _inputs.Length; i++)
            _inputs[i].See(active[i], now);
        Settle(now);
        _guards.Decide(now, _inputs, Hush, bus => Rejoin(bus, now));
        foreach (var output in _outputs)
            output.Turn(now);
        ServeNodes(now);
        foreach (var answer in _answers.Where(IsShut))
        {
            answer.Withdraw();
            answer.Channel!.Reset();
        }
        _stepped = true;
        _events.FireChanges(_modules, now);
        Release(now);
        Offer(now);
    }

    // Nodes that a guard shuts forget everything, others start; what they hold is not sent.
    private void ServeNodes(long now)
    {
        foreach (var node in _nodes)
        {
            if (_guards.Shut(node.Planned.Bus))
            {
                node.Withdraw();
                node.Node!.Reset();
            }
            else if (node.Sending && node.Node!.IsOff)
            {
                node.Node.Start(now);
            }
        }
        foreach (var frame in _frames.Where(f => f.Pending && IsHeld(f)))
            Unpend(frame, 1);
    }

    private bool IsShut(FrameState frame) => _guards.Shut(frame.Planned.Bus) || IsHeld(frame);

    private bool IsHeld(FrameState frame) => _nodes.Any(n => n.Node!.Holds && n.Planned.Owner == frame.Planned.Owner
        && n.Node.Node.Carries(frame.Planned.Frame, n.Planned.Frame.Bus));

    /// <summary>The controller on a bus goes bus-off, unless it is off the bus already.</summary>
    public void GoOff(SimulatedBus bus, long now)
    {
        for (var i = 0; i < _buses.Count; i++)
        {
            if (_buses[i] != bus || bus.IsHeld(_number, now))
                continue;
            if (_plan.Guards.BusOff is null)
            {
                bus.Hold(_number, now + bus.RecoveryUs);
                continue;
            }
            _guards.GoOff(i);
            bus.Hold(_number, long.MaxValue);
        }
    }

    /// <summary>The board is reset: its controllers forget what waits in them.</summary>
    public void End(long now)
    {
        for (var bus = 0; bus < _buses.Count; bus++)
        {
            TakeBack(bus);
            if (_guards.IsOff(bus))
                Rejoin(bus, now);
        }
    }

    private void Rejoin(int bus, long now) => _buses[bus].Hold(_number, now + _buses[bus].RecoveryUs);

    private void TakeBack(int bus)
    {
        foreach (var frame in _buses[bus].Withdraw(_number))
        {
            frame.Done!();
            _takenBack(new SentFrame(_buses[bus].Name, frame.Sender, frame.Id, frame.Data, frame.OfferedUs, -1, -1) { Format = frame.Format });
        }
    }

    private void Hush(int bus)
    {
        foreach (var frame in _frames.Where(f => f.Pending && f.Planned.Bus == bus))
            Unpend(frame, 1);
        TakeBack(bus);
    }

    private void Take(ModuleState module, int bus, CanId id, byte[] data, long now)
    {
        for (var i = 0; i < module.Receives.Length; i++)
        {
            var received = module.Receives[i];
            if (module.Planned.Buses[received.Received.Bus] != bus || !received.Received.Matches(id, data.Length))
                continue;
            received.Receive(data, now);
            _events.Fire(module.Planned, TriggerKind.Received, i, now);
            foreach (var answer in _answers.Where(a => a.Sending && a.Planned.Owner == module.Planned))
                if (answer.Channel!.Channel.Request == i || answer.Channel.Channel.Functional == i)
                    answer.Channel.Take(data, answer.Channel.Channel.Functional == i, now);
            foreach (var node in _nodes.Where(n => n.Sending && n.Planned.Owner == module.Planned))
                node.Node!.Take(i, id, data, now);
        }
    }

    private long? NextChange()
    {
        long? next = null;
        foreach (var input in _inputs)
            if (input.SettlesUs is { } settles && (next is null || settles < next))
                next = settles;
        foreach (var module in _modules)
        {
            if (module.EndsUs is { } ends && (next is null || ends < next))
                next = ends;
            foreach (var received in module.Receives)
                if (received.LostUs is { } lost && (next is null || lost < next))
                    next = lost;
        }
        foreach (var at in _answers.SelectMany(a => new[] { a.Channel!.TimerUs, a.Channel.SessionEndsUs }).Concat(_nodes.Select(n => n.Node!.TimerUs)))
            if (at is { } ends && (next is null || ends < next))
                next = ends;
        return next;
    }

    private void Settle(long at)
    {
        for (var i = 0; i < _inputs.Length; i++)
            if (_inputs[i].Settle(at))
                _events.FireInput(i, _inputs[i].Settled, at);
        foreach (var module in _modules)
            foreach (var received in module.Receives)
                received.Lose(at);
        foreach (var answer in _answers)
            answer.Channel!.Tick(at);
        foreach (var node in _nodes)
            node.Node!.Tick(at);
        foreach (var module in _modules)
            for (var left = module.Planned.Module.Modes.Count; left > 0 && module.Next(at, _inputs) is { } next; left--)
                Enter(module, next, at);
        WantOutputs(at);
    }

    private void WantOutputs(long at)
    {
        foreach (var output in _outputs)
            output.Want(_modules[output.Planned.Owner.Index].Wants(output.Planned.Output, _inputs), at);
    }

    private void Enter(ModuleState module, int mode, long at)
    {
        module.Enter(mode, at);
        foreach (var frame in _frames.Where(f => f.Planned.Owner == module.Planned))
        {
            var sends = frame.Planned.Frame.Modes.Contains(mode);
            if (sends && !frame.Sending)
            {
                frame.Start(at);
                _events.Started(frame, module, at);
                Enqueue(frame);
            }
            else if (!sends && frame.Sending)
            {
                frame.Stop();
                if (frame.Pending)
                    Unpend(frame, 1);
            }
            else if (sends && frame.ChangePeriod(mode, at))
            {
                Enqueue(frame);
            }
        }
        _events.Fire(module.Planned, TriggerKind.Mode, mode, at);
    }

    // Periods first, then events in row order until none is due; both at once make one release.
    private void Release(long now)
    {
        _byPeriod.Clear();
        DropStale();
        while (_due.TryPeek(out var frame, out var due) && due.Due <= now)
        {
            _due.Dequeue();
            var count = frame.TakeCycle(now, _modules[frame.Planned.Owner.Index].Mode.Index);
            Enqueue(frame);
            _byPeriod.Add(frame);
            Pend(frame, count - 1 + (frame.Pending ? 1 : 0));
            DropStale();
        }
        while (_events.NextDue(now) is { } frame)
        {
            var count = frame.TakeEvents(now);
            Pend(frame, count - 1 + (frame.Pending && !_byPeriod.Contains(frame) ? 1 : 0));
        }
    }

    private void Pend(FrameState frame, long skipped)
    {
        if (IsShut(frame))
        {
            skipped = 0;
        }
        else
        {
            frame.Pending = true;
            _pending.Add(frame.Planned.Row);
        }
        frame.MoveOn(_modules[frame.Planned.Owner.Index].Receives);
        if (skipped > 0)
            frame.Skip(skipped);
        _events.Fire(frame.Planned.Owner, TriggerKind.Frame, frame.Planned.IndexInModule, frame.LastUs!.Value);
    }

    private void Offer(long now)
    {
        var closed = -1;
        if (_pending.Count is 0)
            return;
        foreach (var row in _pending.ToArray())
        {
            var frame = _frames[row];
            var bus = frame.Planned.Bus;
            if (bus == closed)
                continue;
            var fromNode = frame.Node?.Compose();
            var id = fromNode?.Id ?? frame.Planned.Frame.Id;
            // Nodes of one board that lost their addresses have one identifier (rule 11).
            var waits = frame.Node is null ? frame.InMailbox : _nodes.Any(n => n.Planned.Bus == bus && n.Node!.IsInMailbox(id));
            if (waits || _mailboxes[bus] == _plan.Kind.Mailboxes)
            {
                closed = bus;
                continue;
            }
            var owner = frame.Planned.Owner.Index;
            var data = fromNode?.Data ?? frame.Channel?.Compose() ?? frame.Page.Compose(_modules[owner].Mode.Index, _counterValues[owner], _modules[owner].Receives, frame.Live);
            _mailboxes[bus]++;
            _buses[bus].Put(new Waiting(id, frame.Planned.Frame.Format, data, now, frame.Planned.Sender, _number, () => Left(frame, id)));
            _pending.Remove(row);
            frame.Accepted();
        }
    }

    private FrameState OpenChannel(PlannedModule owner, Channel channel)
    {
        var answer = FrameOf(owner, channel.Frame);
        answer.Channel = new ChannelState(channel, answer.Planned.Frame.Format is not FrameFormat.Classic, at => Ask(answer, at));
        return answer;
    }

    private FrameState OpenNode(PlannedModule owner, Node node)
    {
        var row = FrameOf(owner, node.Frame);
        row.Node = new NodeState(node, (index, at) => Release(FrameOf(owner, index), at), at => Ask(row, at));
        return row;
    }

    private FrameState FrameOf(PlannedModule owner, int index) => _frames.Single(f => f.Planned.Owner == owner && f.Planned.IndexInModule == index);

    private static bool Release(FrameState frame, long at)
    {
        if (frame.Sending)
            frame.Fire(at);
        return frame.Sending;
    }

    private void Ask(FrameState row, long? at)
    {
        row.Withdraw();
        if (row.Pending)
            Unpend(row, 1);
        if (at is { } release)
            row.Fire(release);
    }

    private void Left(FrameState frame, CanId id)
    {
        frame.InMailbox = false;
        frame.Node?.Done(id);
        _mailboxes[frame.Planned.Bus]--;
    }

    private void Unpend(FrameState frame, long releases)
    {
        frame.Pending = false;
        _pending.Remove(frame.Planned.Row);
        frame.Skip(releases);
    }

    private void Enqueue(FrameState frame)
    {
        if (frame.CycleUs is { } due)
            _due.Enqueue(frame, (due, frame.Planned.Row));
    }

    // Entries of frames that stopped or moved on stay in the queue until they come up.
    private void DropStale()
    {
        while (_due.TryPeek(out var frame, out var due) && frame.CycleUs != due.Due)
            _due.Dequeue();
    }
}
