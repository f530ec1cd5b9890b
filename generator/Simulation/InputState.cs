using Locum.Planning;

namespace Locum.Simulation;

/// <summary>One input with its debounce (rule 4).</summary>
internal sealed class InputState(PlannedInput planned)
{
    private bool _seen;

    public bool Settled { get; private set; }

    public long? SettlesUs { get; private set; }

    public void See(bool active, long now)
    {
        if (active == _seen)
            return;
        _seen = active;
        SettlesUs = active != Settled ? now + planned.DebounceUs : null;
    }

    /// <summary>Settles if its time has come; true if it did.</summary>
    public bool Settle(long at)
    {
        if (SettlesUs > at || SettlesUs is null)
            return false;
        SettlesUs = null;
        Settled = !Settled;
        return true;
    }
}
