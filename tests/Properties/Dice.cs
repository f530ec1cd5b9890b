using System.Globalization;
using CsCheck;

namespace Locum.Tests.Properties;

/// <summary>Draws from one seeded source; the order of draws decides everything.</summary>
internal sealed class Dice(PCG pcg)
{
    /// <summary>A number from <paramref name="low"/> to <paramref name="high"/>, both included.</summary>
    public long Between(long low, long high) => low + (long)pcg.Next64((ulong)(high - low) + 1);

    public int Between(int low, int high) => (int)Between((long)low, high);

    public bool Chance(int percent) => pcg.Next(100) < percent;

    public T Pick<T>(params IReadOnlyList<T> choices) => choices[(int)pcg.Next((uint)choices.Count)];

    public ulong Bits(int width) => width is 64 ? pcg.Next64() : pcg.Next64() & ((1UL << width) - 1);

    /// <summary>Random bytes as descriptions write them.</summary>
    public string Row(int length) => string.Join(' ', Enumerable.Range(0, length).Select(_ => $"{Bits(8):X2}"));

    /// <summary>Some of the choices, at least <paramref name="least"/>, in their order.</summary>
    public List<T> Some<T>(IReadOnlyList<T> choices, int least)
    {
        var kept = choices.Where(_ => Chance(50)).ToList();
        while (kept.Count < Math.Min(least, choices.Count))
        {
            var missing = choices.Except(kept).ToList();
            kept.Add(Pick(missing));
        }
        return [.. choices.Where(kept.Contains)];
    }

    /// <summary>An odd number of microseconds from a range, mostly, and sometimes a round number of milliseconds.</summary>
    public long Time(long low, long high)
    {
        var us = Between(low, high);
        return Chance(40) && us >= 1_000 ? us / 1_000 * 1_000 : us;
    }

    /// <summary>The time as a description may write it.</summary>
    public string Text(long us) => us % 1_000 is 0 && Chance(70) ? $"{us / 1_000} ms"
        : Chance(50) ? $"{us} us"
        : $"{(us / 1_000m).ToString("0.###", CultureInfo.InvariantCulture)} ms";
}
