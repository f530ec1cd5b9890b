using Locum.Model;
using Locum.Planning;
using Locum.Wire;

namespace Locum.Simulation;

/// <summary>The guards of a board while it runs (rules G1 to G10).</summary>
internal sealed class GuardState
{
    private readonly BoardPlan _plan;
    private readonly Watched[] _buses;
    private readonly long? _runEndsUs;
    private readonly long? _steadyUs;
    private bool _foreign;
    private Silence _forGood;

    /// <param name="kept">What outlived a reset; null: nothing.</param>
    public GuardState(BoardPlan plan, KeptState? kept, ResetCause cause, long now)
    {
        _plan = plan;
        _forGood = kept?.Reason ?? Silence.None;
        if (plan.Guards.BrownOuts is { } dips && kept is not null)
        {
            BrownOuts = kept.BrownOuts + (cause is ResetCause.BrownOut && kept.BrownOuts <= dips.Most ? 1 : 0);
            _steadyUs = now + dips.SteadyUs;
        }
        _buses = [.. plan.Buses.Select(_ => new Watched())];
        _runEndsUs = plan.Guards.RunAtMostUs is { } run ? now + run : null;
    }

    /// <summary>What this step decided.</summary>
    public Silence Reason { get; private set; }

    /// <summary>The reason, if it ends only with the power.</summary>
    public Silence ForGood => _forGood;

    /// <summary>Brown-outs in a row (rule G10).</summary>
    public int BrownOuts { get; private set; }

    /// <summary>There were so many that nothing is switched any more.</summary>
    public bool OutputsOff => BrownOuts > _plan.Guards.BrownOuts?.Most;

    public bool Shut(int bus) => Reason is not Silence.None || _buses[bus].RestartUs is not null;

    /// <summary>Was the controller off the bus and not restarted?</summary>
    public bool IsOff(int bus) => _buses[bus].Off;

    public void GoOff(int bus) => _buses[bus].Off = true;

    /// <summary>A frame of another station came.</summary>
    public void Hear(int bus, CanId id) => _foreign |= _plan.Guards.Foreign && _plan.Frames.Any(f => f.Bus == bus && f.Frame.Id == id && !f.Frame.IsNode);

    /// <summary>Decides on silence; the actions take back what waits on a bus, and restart its controller.</summary>
    public void Decide(long now, IReadOnlyList<InputState> inputs, Action<int> hush, Action<int> restart)
    {
        if (_foreign)
            StopFor(Silence.ForeignSender);
        if (_plan.Guards.BusOff is { } rule)
            for (var bus = 0; bus < _buses.Length && _forGood is Silence.None; bus++)
                Watch(bus, rule, now, hush, restart);
        if (_runEndsUs <= now)
            StopFor(Silence.RunTime);
        if (_steadyUs <= now && !OutputsOff)
            BrownOuts = 0;
        var enabled = _plan.Guards.EnableInput is not { } input || inputs[input].Settled;
        var reason = _forGood is not Silence.None || enabled ? _forGood : Silence.Disabled;
        if (Reason is Silence.None && reason is not Silence.None)
            for (var bus = 0; bus < _buses.Length; bus++)
                hush(bus);
        Reason = reason;
    }

    /// <summary>The next time at which the guards have something to do, or null.</summary>
    public long? Next()
    {
        if (_forGood is not Silence.None)
            return null;
        var next = Earlier(_runEndsUs, BrownOuts > 0 && !OutputsOff ? _steadyUs : null);
        foreach (var bus in _buses)
            next = Earlier(Earlier(next, bus.RestartUs), bus.ForgetsUs);
        return next;
    }

    private static long? Earlier(long? a, long? b) => a is null || b < a ? b : a;

    private void Watch(int bus, BusOffGuard rule, long now, Action<int> hush, Action<int> restart)
    {
        var state = _buses[bus];
        if (state.ForgetsUs <= now)
        {
            state.ForgetsUs = null;
            state.Recoveries = 0;
        }
        if (state.Off && state.RestartUs is null)
        {
            if (state.Recoveries == rule.Recoveries)
            {
                StopFor(Silence.BusOff);
                return;
            }
            state.Recoveries++;
            state.ForgetsUs ??= now + rule.WithinUs;
            state.RestartUs = now + rule.WaitUs;
            hush(bus);
        }
        if (state.RestartUs <= now)
        {
            state.RestartUs = null;
            state.Off = false;
            restart(bus);
        }
    }

    private void StopFor(Silence reason)
    {
        if (_forGood is Silence.None)
            _forGood = reason;
    }

    private sealed class Watched
    {
        public bool Off { get; set; }

        public long? RestartUs { get; set; }

        public long? ForgetsUs { get; set; }

        public int Recoveries { get; set; }
    }
}

/// <summary>What a board keeps over a reset: silence for good, the mode of each module, brown-outs in a row.</summary>
internal sealed record KeptState(Silence Reason, IReadOnlyList<int> Modes, int BrownOuts);
