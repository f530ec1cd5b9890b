using System.Diagnostics;
using Locum.Budgeting;
using Locum.Wire;

namespace Locum.Benchmarks;

/// <summary>Response times of 200 frames, and offsets of 100 frames beside what no choice of offsets can beat.</summary>
internal static class BudgetRun
{
    private const int Repeats = 20;

    public static int Print()
    {
        var random = new Random(1);
        var streams = Enumerable.Range(0, 200).Select(i => Stream(i, Pick(random, 20_000, 50_000, 100_000, 100_000, 200_000), random.Next(2, 9))).ToList();
        Time($"analysis of 200 frames, load {streams.Sum(s => s.WorstLoad):P0}, 4 boards", () => ResponseAnalysis.Of(streams, new BusConditions(2) { Mailboxes = [3, 3, 3, 3] }));
        var errors = new BusConditions(2) { Mailboxes = [3, 3, 3, 3], ErrorsEveryUs = 20_000 };
        Time("the same with an error every 20 ms", () => ResponseAnalysis.Of(streams, errors));
        foreach (var periods in new long[][] { [50_000, 100_000, 200_000, 500_000], [20_000, 50_000, 100_000, 200_000], [20_000, 50_000, 50_000, 100_000] })
            Offsets(random, periods);
        return 0;
    }

    private static void Offsets(Random random, long[] periods)
    {
        var frames = Enumerable.Range(0, 100).Select(i => new OffsetFrame($"f{i}", i, Pick(random, periods), 0, 110 + (20 * random.Next(0, 9)))).ToList();
        IReadOnlyList<OffsetFrame> chosen = [];
        Time($"offsets of 100 frames, load {frames.Sum(f => (double)f.SlotUs / f.PeriodUs):P0}", () => chosen = OffsetOptimiser.Optimise(frames), 3);
        var (before, after, least) = (OffsetTimeline.Measure(frames), OffsetTimeline.Measure(chosen), frames.Max(f => f.SlotUs));
        Console.WriteLine($"  wire time at once {before.PeakUs} -> {after.PeakUs} us, longest wait {before.WorstUs} -> {after.WorstUs} us, longest frame {least} us: {(double)after.WorstUs / least:0.00} of the least");
    }

    private static long Pick(Random random, params long[] periods) => periods[random.Next(periods.Length)];

    private static BusArrivals Stream(int i, long period, int length)
    {
        var longest = WireLength.Maximum(FrameFormat.Classic, false, length);
        return new BusArrivals
        {
            Name = $"f{i}",
            Id = new CanId((uint)i + 1, false),
            Station = i % 5 is 4 ? null : i % 5,
            PeriodUs = period,
            DeadlineUs = period,
            JitterUs = 300,
            WireUs = longest.TimeUs(500_000, null),
            SlotUs = longest.WithIntermission.TimeUs(500_000, null),
        };
    }

    private static void Time(string what, Action run, int repeats = Repeats)
    {
        run();
        var clock = Stopwatch.StartNew();
        for (var i = 0; i < repeats; i++)
            run();
        Console.WriteLine($"{what}: {clock.Elapsed.TotalMilliseconds / repeats:0.00} ms");
    }
}
