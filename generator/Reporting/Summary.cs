using Locum.Planning;
using Locum.Simulation;
using Locum.Wire;

namespace Locum.Reporting;

/// <summary>Figures of a simulation.</summary>
public sealed record Summary(IReadOnlyList<FrameSummary> Frames, IReadOnlyList<BusSummary> Buses)
{
    public static Summary Of(IReadOnlyList<BoardPlan> plans, SimulationResult result)
    {
        var bySender = result.Frames.Where(f => f.EndUs >= 0).ToLookup(f => f.Sender, StringComparer.Ordinal);
        var frames = plans.SelectMany((p, board) => p.Frames.Select(f => FrameSummary.Of(f, bySender[f.Sender], result.Skipped[board][f.Row]))).ToList();
        var buses = plans.SelectMany(p => p.Buses).DistinctBy(b => b.Name).Select(b => BusSummary.Of(b, result)).ToList();
        return new Summary(frames, buses);
    }
}

/// <summary>One frame's figures, from the starts of its frames on the wire.</summary>
/// <param name="MinUs">Shortest distance between two frames within one stay in its modes; null below two frames.</param>
/// <param name="JitterUs">Largest deviation of a distance from the period; null below two frames and where the distance is meant to vary.</param>
public sealed record FrameSummary(string Sender, string Frame, CanId Id, int Sent, long Skipped, double? MinUs, double? MeanUs, double? MaxUs, double? JitterUs)
{
    internal static FrameSummary Of(PlannedFrame planned, IEnumerable<SentFrame> sent, long skipped)
    {
        var starts = sent.Select(f => f.StartUs).ToList();
        var period = planned.Frame.PeriodUs;
        // Where the distance is meant to vary there is no period to deviate from.
        var plain = planned.Frame is { Burst: null, Events: null, PeriodByMode.Count: 0 };
        // A pause of two periods or more is a mode in which the frame rests, or skipped releases: not jitter.
        var distances = starts.Zip(starts.Skip(1), (a, b) => (double)(b - a)).Where(d => d < 2 * period).ToList();
        return distances.Count is 0
            ? new FrameSummary(planned.Sender, planned.Frame.Name, planned.Frame.Id, starts.Count, skipped, null, null, null, null)
            : new FrameSummary(planned.Sender, planned.Frame.Name, planned.Frame.Id, starts.Count, skipped,
                distances.Min(), distances.Average(), distances.Max(), plain ? distances.Max(d => Math.Abs(d - period)) : null);
    }
}

/// <summary>One bus' figures.</summary>
/// <param name="DataRate">Bit/s behind the switch of CAN FD frames; null on a classic bus.</param>
/// <param name="Load">Share of the time in which a frame or its intermission is on the bus.</param>
/// <param name="OwnLoad">The part of it that the simulated boards send.</param>
public sealed record BusSummary(string Name, int Rate, int? DataRate, double Load, double OwnLoad)
{
    internal static BusSummary Of(PlannedBus bus, SimulationResult result)
    {
        var intermission = FrameLength.TimeUs(FrameLength.IntermissionBits, bus.Rate);
        var all = result.Frames.Where(f => f.Bus == bus.Name && f.EndUs >= 0).ToList();
        var time = Math.Max(1, result.EndUs);
        return new BusSummary(bus.Name, bus.Rate, bus.DataRate,
            all.Sum(f => (double)(f.EndUs - f.StartUs + intermission)) / time,
            all.Where(f => f.Sender.Length > 0).Sum(f => (double)(f.EndUs - f.StartUs + intermission)) / time);
    }
}
