using System.Text;

namespace Locum.Pages;

/// <summary>Times of frames as drawings and as numbers for the page's script.</summary>
internal static class TimeMarks
{
    /// <summary>Width of a lane in its own units, whatever time it shows.</summary>
    public const int LaneWidth = 1000;

    /// <summary>Unit of the numbers for the script, µs.</summary>
    public const long QuantumUs = 10;

    // Marks nearer than this many units flow into one bar.
    private const double Joined = 3;

    // Slots that marks may share when there are too many for a page, µs.
    private static readonly long[] s_slots = [0, 1_000, 2_000, 5_000, 10_000, 20_000, 50_000, 100_000, 200_000, 500_000, 1_000_000];

    /// <summary>The smallest slot with which lanes have no more marks than the page can carry, µs; 0: every frame has its own.</summary>
    public static long SlotUs(IReadOnlyList<IReadOnlyList<long>> lanes, int most) =>
        s_slots.Cast<long?>().FirstOrDefault(s => lanes.Sum(l => Thin(l, s!.Value).Count()) <= most) ?? s_slots[^1];

    /// <summary>One time for each slot that has any.</summary>
    public static IEnumerable<long> Thin(IReadOnlyList<long> times, long slotUs)
    {
        var last = long.MinValue;
        foreach (var time in times)
        {
            if (slotUs > 0 && time / slotUs == last)
                continue;
            last = slotUs > 0 ? time / slotUs : last;
            yield return time;
        }
    }

    /// <summary>Distances in quanta, base 36, the first from 0.</summary>
    public static string Encode(IEnumerable<long> times)
    {
        var text = new StringBuilder();
        var last = 0L;
        foreach (var time in times.Select(t => t / QuantumUs))
        {
            text.Append(text.Length > 0 ? " " : "").Append(Base36(time - last));
            last = time;
        }
        return text.ToString();
    }

    /// <summary>Single marks as ticks, dense ones as bars; paths in a box of <see cref="LaneWidth"/> by 16.</summary>
    public static (string Ticks, string Bars) Paths(IReadOnlyList<long> times, long endUs)
    {
        var (ticks, bars) = (new StringBuilder(), new StringBuilder());
        for (var i = 0; i < times.Count;)
        {
            var first = X(times[i], endUs);
            var last = first;
            while (++i < times.Count && X(times[i], endUs) - last < Joined)
                last = X(times[i], endUs);
            if (last > first)
                bars.Append($"M{first:0.#} 4H{last:0.#}V12H{first:0.#}z");
            else
                ticks.Append($"M{first:0.#} 2v12");
        }
        return (ticks.ToString(), bars.ToString());
    }

    private static double X(long us, long endUs) => (double)us / endUs * LaneWidth;

    private static string Base36(long value)
    {
        if (value is 0)
            return "0";
        var digits = new Stack<char>();
        for (var rest = value; rest > 0; rest /= 36)
            digits.Push("0123456789abcdefghijklmnopqrstuvwxyz"[(int)(rest % 36)]);
        return string.Concat(digits);
    }
}
