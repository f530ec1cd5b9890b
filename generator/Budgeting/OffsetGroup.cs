using Locum.Model;
using Locum.Planning;
using Locum.Wire;

namespace Locum.Budgeting;

/// <summary>Cyclic frames of a board on one bus that always start together, so that their phases against each other are fixed.</summary>
/// <param name="Board">Name of the board.</param>
/// <param name="Bus">Name of the bus.</param>
/// <param name="Planned">The frames in order of priority.</param>
/// <param name="Present">Offsets as described.</param>
/// <param name="Chosen">Offsets as chosen.</param>
public sealed record OffsetGroup(string Board, string Bus, IReadOnlyList<PlannedFrame> Planned, IReadOnlyList<OffsetFrame> Present, IReadOnlyList<OffsetFrame> Chosen)
{
    public OffsetFigures Before { get; } = OffsetTimeline.Measure(Present);

    public OffsetFigures After { get; } = OffsetTimeline.Measure(Chosen);

    /// <summary>No choice of offsets comes below the longest frame alone, µs.</summary>
    public long LeastUs => Present.Max(f => f.SlotUs);

    /// <summary>The frames whose offsets change, with the new ones in µs.</summary>
    public IEnumerable<(PlannedFrame Frame, long OffsetUs)> Changes => Planned.Zip(Chosen).Where(p => p.First.Frame.OffsetUs != p.Second.OffsetUs).Select(p => (p.First, p.Second.OffsetUs));

    /// <summary>The groups of a board's bus with two frames or more, optimised.</summary>
    public static IEnumerable<OffsetGroup> Of(BoardPlan plan, PlannedBus bus) => plan.Frames
        .Where(f => f.Bus == bus.Index && IsSteady(f.Frame))
        .GroupBy(Start).Where(g => g.Count() > 1)
        .Select(g => Optimised(plan, bus, [.. g]));

    private static OffsetGroup Optimised(BoardPlan plan, PlannedBus bus, IReadOnlyList<PlannedFrame> planned)
    {
        IReadOnlyList<OffsetFrame> present = [.. planned.Select((f, i) => new OffsetFrame(f.Sender, i, f.Frame.PeriodUs, f.Frame.OffsetUs,
            WireLength.Maximum(f.Frame.Format, f.Frame.Id.Extended, f.Frame.Length).WithIntermission.TimeUs(bus.Rate, bus.DataRate)))];
        return new OffsetGroup(plan.Name, bus.Name, planned, present, OffsetOptimiser.Optimise(present));
    }

    private static bool IsSteady(Frame frame) => frame is { IsCyclic: true, IsDescribed: true, Burst: null, PeriodByMode.Count: 0 };

    // Frames that are sent in all modes start at power-on, those of all modules of the board; others with their modes.
    private static (int Module, string Modes) Start(PlannedFrame frame) => frame.Frame.Modes.Count == frame.Owner.Module.Modes.Count
        ? (-1, "") : (frame.Owner.Index, string.Join(',', frame.Frame.Modes));
}
