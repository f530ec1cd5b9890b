using Locum.Capture;
using Locum.Planning;
using Locum.Wire;

namespace Locum.Budgeting;

/// <summary>Load, response times and offsets of all buses that boards are on.</summary>
public static class Budget
{
    /// <summary>One budget per bus, in the order in which the boards name them; boards that name the same bus share it.</summary>
    /// <param name="plans">The boards.</param>
    /// <param name="times">Lengths of composed frames.</param>
    /// <param name="recordings">What else is on the buses; empty when that is not known.</param>
    /// <param name="options">Assumptions about the boards' frames.</param>
    /// <param name="errorsEveryUs">Least distance of errors on a bus; null: none.</param>
    public static IReadOnlyList<BusBudget> Of(IReadOnlyList<BoardPlan> plans, ComposedTimes times, IReadOnlyList<Recording> recordings, StreamOptions options, long? errorsEveryUs) =>
        [.. Buses(plans).Select(b => One(b, plans, times, recordings, options, errorsEveryUs))];

    /// <summary>Recordings none of whose buses is one of the boards': they say nothing.</summary>
    public static IReadOnlyList<Recording> Strange(IReadOnlyList<BoardPlan> plans, IEnumerable<Recording> recordings)
    {
        var buses = Buses(plans);
        return [.. recordings.Where(r => !buses.Any(b => CaptureStreams.SeriesOn(r, b.Name, buses.Count is 1).Any()))];
    }

    private static BusBudget One(PlannedBus bus, IReadOnlyList<BoardPlan> plans, ComposedTimes times, IReadOnlyList<Recording> recordings, StreamOptions options, long? errorsEveryUs)
    {
        var on = plans.Select((p, i) => (Plan: p, Station: i, Bus: p.Buses.FirstOrDefault(b => b.Name == bus.Name))).Where(p => p.Bus is not null).ToList();
        var alone = Buses(plans).Count is 1;
        List<BusArrivals> own = [.. on.SelectMany(p => PlanStreams.Of(p.Plan, p.Station, p.Bus!, times, options))];
        var others = CaptureStreams.Of(recordings, bus.Name, bus.Rate, bus.DataRate, alone, own.Select(s => s.Id).ToHashSet()).ToList();
        var conditions = new BusConditions(FrameLength.TimeUs(1, bus.Rate)) { ErrorsEveryUs = errorsEveryUs, Mailboxes = [.. plans.Select(p => p.Kind.Mailboxes)] };
        return new BusBudget
        {
            Name = bus.Name,
            Rate = bus.Rate,
            DataRate = bus.DataRate,
            Responses = ResponseAnalysis.Of(own.Concat(others), conditions),
            Groups = [.. on.SelectMany(p => OffsetGroup.Of(p.Plan, p.Bus!))],
            MeanLoad = Load(own, s => s.MeanLoad) + others.Sum(s => s.MeanLoad),
            WorstLoad = Load(own, s => s.WorstLoad) + others.Sum(s => s.WorstLoad),
            OwnMeanLoad = Load(own, s => s.MeanLoad),
            OwnWorstLoad = Load(own, s => s.WorstLoad),
            KnowsOthers = recordings.Any(r => CaptureStreams.SeriesOn(r, bus.Name, alone).Any()),
        };
    }

    private static List<PlannedBus> Buses(IReadOnlyList<BoardPlan> plans) => [.. plans.SelectMany(p => p.Buses).DistinctBy(b => b.Name)];

    // A module is in one mode at a time: its fullest one counts.
    private static double Load(IEnumerable<BusArrivals> own, Func<BusArrivals, double> load) => own
        .GroupBy(s => (s.Station, s.Sender!.Value.Module))
        .Sum(module => module.SelectMany(s => s.Sender!.Value.Modes).Distinct().Max(mode => module.Where(s => s.Sender!.Value.Modes.Contains(mode)).Sum(load)));
}
