using Locum.Model;
using Locum.Planning;

namespace Locum.Simulation;

/// <summary>One module's mode while it runs (rules 5 and 6).</summary>
internal sealed class ModuleState(PlannedModule planned)
{
    public PlannedModule Planned { get; } = planned;

    public Mode Mode { get; private set; } = planned.Module.Modes[0];

    public long? EndsUs { get; private set; }

    public void Enter(int mode, long at)
    {
        Mode = Planned.Module.Modes[mode];
        EndsUs = Mode.ForUs is { } time ? at + time : null;
    }

    /// <summary>The mode that follows now, or null to stay.</summary>
    public int? Next(long at, IReadOnlyList<InputState> inputs)
    {
        foreach (var exit in Mode.Exits)
            if (exit.When.All(c => inputs[Planned.Inputs[c.Input]].Settled == c.Active))
                return exit.Then;
        return EndsUs <= at ? Mode.Then : null;
    }
}
