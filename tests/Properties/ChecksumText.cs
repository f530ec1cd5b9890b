using Locum.Binding;
using Locum.Wire;

namespace Locum.Tests.Properties;

/// <summary>Random checksums: every named rule, and free parameters of every width.</summary>
internal static class ChecksumText
{
    private const int LargestSecret = 64;

    private static readonly string[] s_names = [.. ChecksumRuleBinder.AllNames];

    /// <summary>A rule and the width of the field it needs.</summary>
    public static (string Text, int Bits) DrawRule(Dice dice, int length)
    {
        var room = Math.Min(32, length * 8);
        if (dice.Chance(40))
            return DrawCrc(dice, dice.Between(3, room));
        if (dice.Chance(25))
            return DrawSum(dice);
        var name = dice.Pick(s_names);
        if (CrcCatalogue.Find(name) is { } crc)
            return (name, crc.Width);
        return (name, name.StartsWith("j1939", StringComparison.Ordinal) ? Math.Min(room, dice.Between(3, 4))
            : name.StartsWith("nibble-xor", StringComparison.Ordinal) ? dice.Between(1, 4)
            : name.Contains("xor", StringComparison.Ordinal) ? dice.Between(1, 8) : dice.Between(1, 16));
    }

    public static string Draw(Dice dice, string rule, int length, HashSet<int> own, IReadOnlyList<(string Name, DrawnCounter Counter)> counters)
    {
        var parts = new List<string> { $"rule: {rule}" };
        var zero = dice.Chance(30);
        var readable = Enumerable.Range(0, length).Where(b => zero || !own.Contains(b)).ToList();
        if (dice.Chance(70) && readable.Count > 0)
            parts.Add($"over: {Ranges(dice, readable)}");
        foreach (var key in new[] { "before", "with" })
            if (dice.Chance(40))
                parts.Add($"{key}: {Extras(dice, counters)}");
        if (zero)
            parts.Add("own bits: zero");
        return $"{{{string.Join(", ", parts)}}}";
    }

    private static (string Text, int Bits) DrawCrc(Dice dice, int width)
    {
        var parts = new List<string> { $"crc: {width}", $"poly: 0x{dice.Bits(width) | 1:X}" };
        if (dice.Chance(60))
            parts.Add($"init: 0x{dice.Bits(width):X}");
        if (dice.Chance(60))
            parts.Add($"reflect in: {dice.Pick("yes", "no")}");
        if (dice.Chance(60))
            parts.Add($"reflect out: {dice.Pick("yes", "no")}");
        if (dice.Chance(60))
            parts.Add($"xor out: 0x{dice.Bits(width):X}");
        return ($"{{{string.Join(", ", parts)}}}", width);
    }

    private static (string Text, int Bits) DrawSum(Dice dice)
    {
        var kind = dice.Pick("sum", "xor");
        var unit = dice.Pick("bytes", "nibbles");
        var most = kind is "sum" ? 16 : unit is "bytes" ? 8 : 4;
        return ($"{{{kind}: {unit}, start: {dice.Bits(16)}, complement: {dice.Pick("none", "ones", "twos")}}}", dice.Between(1, most));
    }

    private static string Ranges(Dice dice, List<int> readable)
    {
        var ranges = new List<string>();
        for (var i = dice.Between(1, 3); i > 0; i--)
        {
            var first = dice.Pick(readable);
            var last = first;
            while (readable.Contains(last + 1) && dice.Chance(70))
                last++;
            ranges.Add(first == last ? $"{first}" : $"{first}..{last}");
        }
        return ranges.Count is 1 && dice.Chance(50) ? ranges[0] : $"[{string.Join(", ", ranges)}]";
    }

    private static string Extras(Dice dice, IReadOnlyList<(string Name, DrawnCounter Counter)> counters)
    {
        var extras = Enumerable.Range(0, dice.Between(1, 3)).Select(_ => Extra(dice, counters)).ToList();
        return extras.Count is 1 && dice.Chance(50) ? extras[0] : $"[{string.Join(", ", extras)}]";
    }

    private static string Extra(Dice dice, IReadOnlyList<(string Name, DrawnCounter Counter)> counters)
    {
        var small = counters.Where(c => c.Counter.Highest - c.Counter.Lowest < LargestSecret).ToList();
        if (small.Count > 0 && dice.Chance(50))
        {
            var (name, counter) = dice.Pick(small);
            var bytes = Enumerable.Range(0, (int)(counter.Highest - counter.Lowest) + 1).Select(_ => $"{dice.Bits(8):X2}");
            var by = counters.Count > 1 || dice.Chance(50) ? $", by: {name}" : "";
            return $"{{secret: {string.Join(' ', bytes)}{by}}}";
        }
        return dice.Pick("id low byte", "id high byte", "id byte 0", "id byte 1", "id byte 2", "id byte 3", "length", $"0x{dice.Bits(8):X2}", $"{dice.Bits(8)}");
    }
}
