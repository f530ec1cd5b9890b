using System.Globalization;
using Locum.Model;

namespace Locum.Capture;

/// <summary>
/// Finds the unit of times by what a CAN bus can carry and what periods its frames usually have: no more than 1 Mbit/s
/// of classic frames (ISO 11898-2), and periods of some 10 ms to some seconds (common practice, no source).
/// </summary>
internal static class TimeJudge
{
    private const double MostLoad = 1.1;
    private const double BitsPerSecond = 1e6;

    // The fastest frames of vehicles repeat about so often.
    private const double UsualPeriod = 0.02;
    private const double LongPeriod = 10;
    private const int FewFrames = 8;

    private static readonly TimeUnit[] s_units = [TimeUnit.Seconds, TimeUnit.Milliseconds, TimeUnit.Microseconds, TimeUnit.Nanoseconds];

    /// <summary>The unit that fits best.</summary>
    /// <param name="samples">Frames in the order of the file.</param>
    /// <param name="fractions">Times have digits behind a decimal mark.</param>
    /// <param name="named">The unit that the header names; null when it names none.</param>
    public static TimeGuess Judge(IReadOnlyList<TimeSample> samples, bool fractions, TimeUnit? named)
    {
        if (named is { } unit)
        {
            var load = Load(samples, unit);
            return load <= MostLoad
                ? new TimeGuess(unit, "certain", "the header says so")
                : new TimeGuess(unit, "a guess", $"the header says so, although the bus would then carry {Number(load)} Mbit/s");
        }

        if (samples.Count > 0 && Epoch(samples[0].Time) is { } epoch)
            return new TimeGuess(epoch, "certain", "the numbers are times since 1970");
        double period = Period(samples);
        var possible = s_units.Where(u => Load(samples, u) <= MostLoad).ToList();
        if (samples.Count < FewFrames || possible.Count is 0 || period <= 0)
            return Few(samples, fractions, possible);
        var best = possible.MinBy(u => Math.Abs(Math.Log10(period * Factor(u) / UsualPeriod)) + (fractions && u is not TimeUnit.Seconds ? 1.5 : 0));
        var other = possible.Where(u => u != best).Select(u => $"in {Word(u)} {Time(period * Factor(u))}").ToList();
        var ruledOut = s_units.Except(possible).Select(Word).ToList();
        string reason = $"the fastest identifiers then repeat every {Time(period * Factor(best))}"
            + (other.Count > 0 ? $"; {string.Join(", ", other)}" : "")
            + (ruledOut.Count > 0 ? $"; in {string.Join(" or ", ruledOut)} the bus would carry more than 1 Mbit/s" : "");
        bool usual = period * Factor(best) is >= 0.001 and <= LongPeriod;
        return new TimeGuess(best, usual ? fractions == (best is TimeUnit.Seconds) ? "certain" : "likely" : "a guess", reason);
    }

    /// <summary>The unit as people write it.</summary>
    public static string Word(TimeUnit unit) => unit switch
    {
        TimeUnit.Milliseconds => "ms",
        TimeUnit.Microseconds => "us",
        TimeUnit.Nanoseconds => "ns",
        _ => "s",
    };

    /// <summary>The unit in which a number is a time between 2000 and 2100; null when it is none.</summary>
    public static TimeUnit? Epoch(decimal time)
    {
        const decimal From = 946_684_800;
        const decimal Until = 4_102_444_800;
        decimal scale = 1;
        foreach (var unit in s_units)
        {
            if (time >= From * scale && time < Until * scale)
                return unit;
            scale *= 1000;
        }

        return null;
    }

    private static TimeGuess Few(IReadOnlyList<TimeSample> samples, bool fractions, List<TimeUnit> possible)
    {
        if (fractions && (possible.Count is 0 || possible.Contains(TimeUnit.Seconds)))
            return new TimeGuess(TimeUnit.Seconds, "likely", "the numbers have fractions");
        var steps = samples.Zip(samples.Skip(1), (a, b) => b.Time - a.Time).Where(s => s > 0).Order().ToList();
        if (steps.Count is 0 || possible.Count is 0)
            return new TimeGuess(TimeUnit.Seconds, "a guess", "too few rows to tell");
        // The usual distance of neighbours on a bus is about a millisecond.
        double step = (double)steps[steps.Count / 2];
        var best = possible.MinBy(u => Math.Abs(Math.Log10(step * Factor(u) / 0.005)));
        return new TimeGuess(best, "a guess", $"rows are then {Time(step * Factor(best))} apart");
    }

    // Mbit/s on the busiest bus, without pauses longer than a hundred usual distances.
    private static double Load(IReadOnlyList<TimeSample> samples, TimeUnit unit)
    {
        double most = 0;
        foreach (var bus in samples.GroupBy(s => s.Bus))
        {
            var frames = bus.ToList();
            var steps = frames.Zip(frames.Skip(1), (a, b) => (double)(b.Time - a.Time)).Where(s => s >= 0).Order().ToList();
            if (steps.Count < 2)
                continue;
            double usual = steps.Average();
            double span = steps.Where(s => s <= 100 * usual).Sum() * Factor(unit);
            if (span > 0)
                most = Math.Max(most, frames.Average(f => f.Bits) * steps.Count / span / BitsPerSecond);
        }

        return most;
    }

    // The period of the fastest tenth of identifiers, in the unit of the numbers; 0 when none repeats.
    private static double Period(IReadOnlyList<TimeSample> samples)
    {
        var periods = samples.GroupBy(s => s.Key)
            .Where(g => g.Count() >= 3)
            .Select(g => g.Select(s => (double)s.Time).ToList())
            .Select(t => Median([.. t.Zip(t.Skip(1), (a, b) => b - a)]))
            .Where(p => p > 0)
            .Order()
            .ToList();
        return periods.Count is 0 ? 0 : periods[periods.Count / 10];
    }

    private static double Median(double[] values)
    {
        Array.Sort(values);
        return values[values.Length / 2];
    }

    private static double Factor(TimeUnit unit) => RowTime.NsPerUnit(unit) / 1e9;

    private static string Time(double seconds) => seconds switch
    {
        < 1e-6 => $"{Number(seconds * 1e9)} ns",
        < 1e-3 => $"{Number(seconds * 1e6)} us",
        < 1 => $"{Number(seconds * 1e3)} ms",
        _ => $"{Number(seconds)} s",
    };

    private static string Number(double value) => value.ToString(value < 10 ? "0.#" : "0", CultureInfo.InvariantCulture);
}
