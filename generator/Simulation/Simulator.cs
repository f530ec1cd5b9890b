using Locum.Model;
using Locum.Planning;

namespace Locum.Simulation;

/// <summary>Runs boards against a stimulus on modelled buses, event by event.</summary>
public sealed class Simulator
{
    // Outputs that switch faster do so because of each other.
    private const int RunawaySwitches = 500;
    private const long RunawayUs = 1000;

    private readonly Stimulus _stimulus;
    private readonly List<SimulatedBus> _buses = [];
    private readonly List<Station> _stations = [];
    private readonly List<BoardPlan> _plans;
    private readonly Blocked[] _blocked;
    private readonly Stall[] _stalls;
    private readonly BusOff[] _busOffs;
    private readonly Reset[] _resets;
    private readonly List<bool[]> _levels = [];
    private readonly List<TrafficState> _traffic;
    private readonly List<SentFrame> _frames = [];
    private readonly List<ModeChange> _modes = [];
    private readonly List<int[]> _shownModes = [];
    private readonly List<Silence> _shownSilence = [];
    private readonly List<SilenceChange> _silences = [];
    private readonly List<bool[]> _shownOutputs = [];
    private readonly List<OutputChange> _outputs = [];
    private readonly Queue<(long AtUs, string Wire, bool On)> _edges = new();
    private readonly HashSet<string> _driven;
    private OutputChange? _runaway;
    private int _nextInput;

    private Simulator(IReadOnlyList<BoardPlan> boards, Stimulus stimulus)
    {
        _stimulus = stimulus;
        _blocked = [.. stimulus.Blocked];
        _stalls = [.. stimulus.Stalls];
        _busOffs = [.. stimulus.BusOffs];
        _resets = [.. stimulus.Resets];
        _plans = [.. boards];
        _driven = [.. boards.SelectMany(b => b.Outputs).Select(o => o.Output.Name)];
        foreach (var (plan, number) in boards.Select((p, i) => (p, i)))
        {
            _stations.Add(new Station(plan, number, Buses(plan), _frames.Add));
            _shownSilence.Add(Silence.None);
            _levels.Add(new bool[plan.Inputs.Count]);
            _shownModes.Add(new int[plan.Modules.Count]);
            _shownOutputs.Add(new bool[plan.Outputs.Count]);
        }
        _traffic = [.. stimulus.Traffic
            .Where(t => _buses.Any(b => b.Name == t.Bus))
            .Select((t, i) => new TrafficState(t, boards.Count + i, _buses.First(b => b.Name == t.Bus)))];
    }

    /// <summary>Runs to the end of the stimulus. Boards that name the same bus share it.</summary>
    public static SimulationResult Run(IReadOnlyList<BoardPlan> boards, Stimulus stimulus)
    {
        var simulator = new Simulator(boards, stimulus);
        for (long? now = 0; now <= stimulus.EndUs && simulator._runaway is null; now = simulator.Next(now.Value))
            simulator.Instant(now.Value);
        simulator.TakeRest();
        return new SimulationResult(simulator._frames, simulator._modes, [.. simulator._stations.Select(s => s.Skipped)], stimulus.EndUs) { Silences = simulator._silences, Outputs = simulator._outputs, Runaway = simulator._runaway };
    }

    private void Instant(long now)
    {
        foreach (var bus in _buses)
            Finish(bus, now);
        foreach (var reset in _resets)
            for (var i = 0; i < _stations.Count && reset.AtUs == now; i++)
                Restart(i, reset, now);
        while (_edges.TryPeek(out var edge) && edge.AtUs <= now)
        {
            _edges.Dequeue();
            SetLevel(edge.Wire, edge.On);
        }
        for (; _nextInput < _stimulus.Inputs.Count && _stimulus.Inputs[_nextInput].AtUs <= now; _nextInput++)
            Apply(_stimulus.Inputs[_nextInput]);
        foreach (var off in _busOffs)
            if (off.AtUs == now)
                GoOff(off.Bus, now);
        foreach (var blocked in _blocked)
            if (blocked.FromUs <= now && now < blocked.UntilUs)
                Block(blocked);
        foreach (var traffic in _traffic)
            traffic.Release(now);
        if (!Stalled(now))
            for (var i = 0; i < _stations.Count; i++)
                Step(i, now);
        foreach (var bus in _buses)
            bus.Start(now);
    }

    private void GoOff(string name, long now)
    {
        foreach (var bus in _buses.Where(b => b.Name == name))
            foreach (var station in _stations)
                station.GoOff(bus, now);
    }

    private void Block(Blocked blocked)
    {
        foreach (var bus in _buses)
            if (bus.Name == blocked.Bus && bus.BlockedUntilUs < blocked.UntilUs)
                bus.BlockedUntilUs = blocked.UntilUs;
    }

    private void Finish(SimulatedBus bus, long now)
    {
        var station = bus.OnWire?.Station;
        if (bus.Finish(now) is not { } sent)
            return;
        _frames.Add(sent);
        for (var i = 0; i < _stations.Count; i++)
            if (i != station && !bus.IsHeld(i, now))
                _stations[i].Hear(bus, sent.Id, sent.Data);
    }

    private void Step(int board, long now)
    {
        _stations[board].Step(now, _levels[board]);
        for (var m = 0; m < _stations[board].Modules.Count; m++)
        {
            var mode = _stations[board].Modules[m].Mode.Index;
            if (mode == _shownModes[board][m])
                continue;
            _shownModes[board][m] = mode;
            _modes.Add(new ModeChange(now, board, m, mode));
        }
        ShowOutputs(board, now);
        if (_stations[board].Silence == _shownSilence[board])
            return;
        _shownSilence[board] = _stations[board].Silence;
        _silences.Add(new SilenceChange(now, board, _stations[board].Silence));
    }

    private void ShowOutputs(int board, long now)
    {
        foreach (var output in _plans[board].Outputs)
            Switch(board, output.Index, _stations[board].IsOn(output.Index), now);
    }

    // An edge reaches the inputs on its wire a microsecond later (rule O4).
    private void Switch(int board, int output, bool on, long now)
    {
        if (on == _shownOutputs[board][output])
            return;
        _shownOutputs[board][output] = on;
        _outputs.Add(new OutputChange(now, board, output, on));
        if (_outputs.Count > RunawaySwitches && now - _outputs[^RunawaySwitches].AtUs < RunawayUs)
            _runaway = _outputs[^1];
        _edges.Enqueue((now + 1, _plans[board].Outputs[output].Output.Name, on));
    }

    private void Restart(int board, Reset reset, long now)
    {
        var old = _stations[board];
        var guards = _plans[board].Guards;
        old.End(now);
        var kept = reset.Cause is not ResetCause.Power && guards.Keeps ? old.Kept : null;
        _stations[board] = new Station(_plans[board], board, Buses(_plans[board]), _frames.Add, now, kept, reset.Cause);
        for (var output = 0; output < _shownOutputs[board].Length; output++)
            Switch(board, output, false, now);
        _shownSilence[board] = Silence.None;
        Array.Clear(_shownModes[board]);
    }

    private long? Next(long now)
    {
        var next = long.MaxValue;
        if (_nextInput < _stimulus.Inputs.Count)
            Consider(_stimulus.Inputs[_nextInput].AtUs);
        if (_edges.TryPeek(out var edge))
            Consider(edge.AtUs);
        foreach (var blocked in _blocked)
            Consider(blocked.FromUs);
        foreach (var blocked in _blocked)
            Consider(blocked.UntilUs);
        foreach (var stall in _stalls)
            Consider(stall.UntilUs);
        foreach (var off in _busOffs)
            Consider(off.AtUs);
        foreach (var reset in _resets)
            Consider(reset.AtUs);
        foreach (var traffic in _traffic)
            Consider(traffic.NextUs);
        foreach (var bus in _buses)
            Consider(bus.Next());
        if (!Stalled(now))
            foreach (var station in _stations)
                Consider(station.NextDue());
        return next is long.MaxValue ? null : next;

        void Consider(long? at)
        {
            if (at > now && at < next)
                next = at.Value;
        }
    }

    private bool Stalled(long now)
    {
        foreach (var stall in _stalls)
            if (stall.FromUs <= now && now < stall.UntilUs)
                return true;
        return false;
    }

    // What an output of a simulated board drives follows that.
    private void Apply(InputChange change)
    {
        if (!_driven.Contains(change.Input))
            SetLevel(change.Input, change.Active);
    }

    private void SetLevel(string wire, bool active)
    {
        for (var board = 0; board < _plans.Count; board++)
            foreach (var input in _plans[board].Inputs.Where(i => i.Name == wire))
                _levels[board][input.Index] = active;
    }

    // Frames that were accepted but did not get through before the end.
    private void TakeRest()
    {
        foreach (var bus in _buses)
            foreach (var frame in (bus.OnWire is null ? bus.Waits : bus.Waits.Prepend(bus.OnWire)).Where(f => f.Done is not null))
                _frames.Add(new SentFrame(bus.Name, frame.Sender, frame.Id, frame.Data, frame.OfferedUs, -1, -1) { Format = frame.Format });
    }

    private IReadOnlyList<SimulatedBus> Buses(BoardPlan plan) => [.. plan.Buses.Select(b => Bus(b.Name, b.Rate, b.DataRate))];

    private SimulatedBus Bus(string name, int rate, int? dataRate)
    {
        var bus = _buses.Find(b => b.Name == name);
        if (bus is null)
            _buses.Add(bus = new SimulatedBus(name, rate, dataRate));
        return bus;
    }

    /// <summary>A cyclic frame of another node.</summary>
    private sealed class TrafficState(Traffic traffic, int station, SimulatedBus bus)
    {
        private long _next = traffic.FirstUs;

        public long? NextUs => _next < traffic.UntilUs ? _next : null;

        public void Release(long now)
        {
            if (_next > now || _next >= traffic.UntilUs)
                return;
            if (bus.OnWire?.Station != station && bus.Waits.All(w => w.Station != station))
                bus.Put(new Waiting(traffic.Id, traffic.Format, traffic.Data, now, "", station, null));
            _next += traffic.PeriodUs;
        }
    }
}
