using Locum.Capture;
using Locum.Wire;

namespace Locum.Inference.Buses;

/// <summary>
/// Measures the load of a bus and, where time stamps are fine enough, its bit rate: of frames right behind one another the
/// second one ends as many bit times after the first as it has bits.
/// </summary>
public static class BusFinder
{
    private const int Looked = 60_000;
    private const int FinestUs = 10;
    private const double Near = 0.015;
    private const double Above = 0.03;
    private const double MostAbove = 0.01;
    private const int LeastSeen = 8;

    private static readonly int[] s_rates = [33_333, 50_000, 83_333, 100_000, 125_000, 250_000, 500_000, 800_000, 1_000_000];

    /// <summary>The facts of one bus.</summary>
    public static BusFinding Find(Recording recording, int bus, int quantumUs)
    {
        var series = recording.Series.Where(s => s.Bus == bus).ToList();
        bool fd = series.Exists(s => Enumerable.Range(0, Math.Min(s.Count, 1)).Any(i => s.Format(i) is not FrameFormat.Classic));
        double bits = series.Sum(s => (double)Bits(s, 0) * s.Count);
        var (rate, evidence) = quantumUs <= FinestUs && !fd ? Rate(Ratios(series)) : default;
        return new BusFinding
        {
            Bus = bus,
            Name = recording.Buses[bus],
            Frames = series.Sum(s => (long)s.Count),
            BitsPerSecond = bits * 1e6 / Math.Max(1, recording.DurationUs),
            SeenRate = rate,
            Evidence = evidence,
            HasFd = fd,
        };
    }

    private static int Bits(FrameSeries series, int index)
    {
        var length = WireLength.Of(series.Id, series.Format(index), series.Data(index)).WithIntermission;
        return length.Nominal + length.Fast;
    }

    // Bits per second if each frame had begun when the one before it ended.
    private static List<double> Ratios(List<FrameSeries> series)
    {
        var entries = new List<(int Order, long TimeUs, FrameSeries Series, int Index)>();
        foreach (var one in series)
            for (int i = 0; i < one.Count && one.Orders[i] < Looked; i++)
                entries.Add((one.Orders[i], one.TimesUs[i], one, i));
        entries.Sort((a, b) => a.Order.CompareTo(b.Order));
        var ratios = new List<double>();
        for (int i = 1; i < entries.Count; i++)
            if (entries[i].TimeUs - entries[i - 1].TimeUs is > 0 and < 10_000 and var distance)
                ratios.Add(Bits(entries[i].Series, entries[i].Index) * 1e6 / distance);
        return ratios;
    }

    private static (int? Rate, Evidence Evidence) Rate(List<double> ratios)
    {
        foreach (int rate in s_rates)
        {
            int near = ratios.Count(r => Math.Abs(r - rate) <= Near * rate);
            int above = ratios.Count(r => r > (1 + Above) * rate);
            if (near < LeastSeen || above > MostAbove * ratios.Count)
                continue;
            // At random one in ten of the frames so near to another one would show this rate.
            int close = ratios.Count(r => r > rate / 2.0);
            double log10 = Chance.OverRules(Chance.Log10Tail(close, near, 0.1), Math.Log10(s_rates.Length));
            return (rate, new Evidence(near + above, near, near, log10));
        }
        return default;
    }
}
