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

    /// <summary>Frames the module listens to, by its own indexes.</summary>
    public ReceivedState[] Receives { get; } = [.. planned.Module.Receives.Select(r => new ReceivedState(r))];

    /// <summary>The mode that follows now, or null to stay.</summary>
    public int? Next(long at, IReadOnlyList<InputState> inputs)
    {
        foreach (var exit in Mode.Exits)
            if (Hold(exit.When, inputs))
                return exit.Then;
        return EndsUs <= at ? Mode.Then : null;
    }

    /// <summary>True if an output of the module is wanted (rule O1).</summary>
    public bool Wants(Output output, IReadOnlyList<InputState> inputs) =>
        output.Modes.Contains(Mode.Index) && (output.While.Count is 0 || output.While.Any(all => Hold(all, inputs)));

    private bool Hold(IReadOnlyList<Condition> conditions, IReadOnlyList<InputState> inputs)
    {
        foreach (var condition in conditions)
            if (!Holds(condition, inputs))
                return false;
        return true;
    }

    private bool Holds(Condition condition, IReadOnlyList<InputState> inputs) => condition switch
    {
        InputCondition input => inputs[Planned.Inputs[input.Input]].Settled == input.Active,
        ReceivedCondition received => Receives[received.Received].There == received.There,
        FieldCondition field => Receives[field.Received].Value(field.Field) is { } raw && field.HoldsFor(raw),
        _ => throw new ArgumentOutOfRangeException(nameof(condition)),
    };
}
