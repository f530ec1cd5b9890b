using System.Globalization;

namespace Locum.Comparing;

/// <summary>Positions of bits as people read them.</summary>
internal static class BitRow
{
    /// <summary>"byte 3 bits 0-3, byte 5", positions being byte × 8 + bit.</summary>
    public static string Of(IEnumerable<int> positions) =>
        string.Join(", ", positions.Distinct().Order().GroupBy(p => p / 8).Select(g => $"byte {g.Key}{Bits([.. g.Select(p => p % 8)])}"));

    private static string Bits(List<int> bits)
    {
        if (bits.Count is 8)
            return "";
        var parts = new List<string>();
        for (var i = 0; i < bits.Count; i++)
        {
            var first = i;
            while (i + 1 < bits.Count && bits[i + 1] == bits[i] + 1)
                i++;
            parts.Add(first == i ? bits[i].ToString(CultureInfo.InvariantCulture) : $"{bits[first]}-{bits[i]}");
        }
        return $" bit{(bits.Count is 1 ? "" : "s")} {string.Join(" ", parts)}";
    }
}
