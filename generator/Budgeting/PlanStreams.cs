using Locum.Model;
using Locum.Planning;
using Locum.Wire;

namespace Locum.Budgeting;

/// <summary>The frames of boards as streams. Modes are taken to change seldom: a start of sending counts as any other release.</summary>
internal static class PlanStreams
{
    /// <param name="plan">The board.</param>
    /// <param name="station">Its number.</param>
    /// <param name="bus">Index of the board's bus.</param>
    /// <param name="times">Mean lengths of composed frames.</param>
    /// <param name="options">Assumptions.</param>
    public static IEnumerable<BusArrivals> Of(BoardPlan plan, int station, PlannedBus bus, ComposedTimes times, StreamOptions options)
    {
        foreach (var planned in plan.Frames.Where(f => f.Bus == bus.Index))
        {
            var frame = planned.Frame;
            var longest = WireLength.Maximum(frame.Format, frame.Id.Extended, frame.Length);
            var basic = new BusArrivals
            {
                Name = planned.Sender,
                Id = frame.Id,
                Station = station,
                Sender = (planned.Owner.Index, frame.Modes),
                PeriodUs = 1,
                DeadlineUs = 1,
                JitterUs = options.JitterUs ?? plan.Kind.ReleaseWithinUs,
                WireUs = longest.TimeUs(bus.Rate, bus.DataRate),
                SlotUs = longest.WithIntermission.TimeUs(bus.Rate, bus.DataRate),
            };
            basic = basic with { MeanSlotUs = times.MeanUs(bus.Name, planned.Sender) ?? basic.SlotUs };
            if (frame.IsCyclic)
                yield return With(basic, frame.ShortestPeriodUs, frame.PeriodByMode.Values.Append(frame.PeriodUs).Min(), StreamBasis.Described);
            if (frame.Events is { } events)
                yield return Sporadic(basic, planned.Owner.Module, events, options);
            else if (!frame.IsCyclic)
                yield return With(basic, options.EventsEveryUs, options.EventsEveryUs, StreamBasis.Assumed);
        }
    }

    private static BusArrivals Sporadic(BusArrivals basic, Module module, Events events, StreamOptions options)
    {
        var between = Math.Max(events.GapUs, LeastDistance(module, events) ?? 0);
        var known = between > 0;
        var distance = known ? between : options.EventsEveryUs;
        if (events.Repeat > 1)
            distance = Math.Min(distance, events.SpacingUs);
        return With(basic, Math.Max(1, distance), known ? between : options.EventsEveryUs, known ? StreamBasis.Described : StreamBasis.Assumed);
    }

    // Events that are all releases of one cyclic frame are as far apart as those.
    private static long? LeastDistance(Module module, Events events) =>
        events is { Changes.Count: 0, Triggers: [{ Kind: TriggerKind.Frame } only] } && module.Frames[only.Index] is { IsCyclic: true, Events: null } cause ? cause.ShortestPeriodUs : null;

    private static BusArrivals With(BusArrivals basic, long period, long meanPeriod, StreamBasis basis) =>
        basic with { PeriodUs = period, DeadlineUs = period, MeanPeriodUs = meanPeriod, Basis = basis };
}
