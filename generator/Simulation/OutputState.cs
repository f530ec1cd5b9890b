using Locum.Planning;

namespace Locum.Simulation;

/// <summary>One output with its delay and its time (rules O1 to O3).</summary>
internal sealed class OutputState(PlannedOutput planned)
{
    private long? _onUs;
    private long? _offUs;
    private bool _wanted;

    public PlannedOutput Planned { get; } = planned;

    public bool On { get; private set; }

    /// <summary>The next time at which it turns by itself, or null.</summary>
    public long? NextUs => _onUs ?? _offUs;

    /// <summary>Tells at each instant whether it is wanted.</summary>
    public void Want(bool wanted, long at)
    {
        if (wanted == _wanted)
            return;
        _wanted = wanted;
        On = false;
        _offUs = null;
        _onUs = wanted ? at + Planned.Output.AfterUs : null;
    }

    /// <summary>Turns on or off if it is time.</summary>
    public void Turn(long now)
    {
        if (_onUs <= now)
        {
            On = true;
            _offUs = _onUs + Planned.Output.ForUs;
            _onUs = null;
        }
        if (_offUs <= now)
        {
            On = false;
            _offUs = null;
        }
    }
}
