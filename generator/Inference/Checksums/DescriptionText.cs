using System.Globalization;

namespace Locum.Inference.Checksums;

/// <summary>Writes findings in the language of descriptions.</summary>
internal static class DescriptionText
{
    /// <summary>A field's value.</summary>
    public static string Field(ChecksumStatement statement, string counter)
    {
        var place = statement.Place;
        string order = place.BigEndian ? ", order: big" : "";
        return Text($"{{bit: {place.Bit}, bits: {place.Bits}{order}, checksum: {Checksum(statement, counter)}}}");
    }

    /// <summary>A checksum's value.</summary>
    public static string Checksum(ChecksumStatement statement, string counter)
    {
        if (statement.Rule is FoundCarrySum carry)
            return Text($"{{rule: {{formula: \"{Formula(carry, statement)}\"}}}}");
        if (statement.Rule is FoundJ1939)
            return "{rule: j1939-71}"; // the whole message and the identifier by default
        string text = $"{{rule: {Rule(statement.Rule)}, over: {Ranges(statement.Over)}";
        if (statement.Before.Count > 0)
            text += $", before: [{string.Join(", ", statement.Before.Select(b => Mixed(b, counter)))}]";
        if (statement.With.Count > 0)
            text += $", with: [{string.Join(", ", statement.With.Select(b => Mixed(b, counter)))}]";
        if (statement.OwnBitsZero && statement.Over.Any(b => statement.Place.Mask(b) != 0))
            text += ", own bits: zero";
        return text + "}";
    }

    /// <summary>The key <c>protect</c> of a frame; IDs never seen are written as 00.</summary>
    public static string Protect(ProtectStatement protect)
    {
        string ids = protect.Profile.IdBits is 0
            ? $"data ids: {string.Join(' ', protect.Ids.Select(i => (i ?? 0).ToString("X2", CultureInfo.InvariantCulture)))}"
            : Text($"data id: 0x{protect.Ids[0]:X}");
        string offset = protect.Offset is 0 ? "" : Text($", offset: {protect.Offset}");
        return $"protect: {{profile: {protect.Profile.Name}, {ids}{offset}}}";
    }

    private static string Rule(FoundRule rule) => rule switch
    {
        FoundSum { Start: 0 } sum => (sum.Nibbles ? "nibble-sum" : "sum") + Suffix(sum.Finish),
        FoundSum sum => $"{{sum: {Unit(sum.Nibbles)}, start: {Number(sum.Start)}{Complement(sum.Finish)}}}",
        FoundXor { Start: 0, Nibbles: false } xor => xor.Inverted ? "xor-ones" : "xor",
        FoundXor { Start: 0, Inverted: false } => "nibble-xor",
        FoundXor xor => $"{{xor: {Unit(xor.Nibbles)}, start: {Number(xor.Start)}{(xor.Inverted ? Complement(SumFinish.Ones) : "")}}}",
        FoundCrc { Named: true } crc => crc.Parameters.Name,
        FoundCrc crc => Parameters(crc),
        _ => throw new ArgumentOutOfRangeException(nameof(rule)),
    };

    private static string Parameters(FoundCrc crc)
    {
        var p = crc.Parameters;
        string text = Text($"{{crc: {p.Width}, poly: {Number(p.Poly)}, init: {Number(p.Init)}");
        if (p.ReflectIn || p.ReflectOut)
            text += $", reflect in: {YesNo(p.ReflectIn)}, reflect out: {YesNo(p.ReflectOut)}";
        return text + (p.XorOut is 0 ? "}" : $", xor out: {Number(p.XorOut)}}}");
    }

    // Sums of consecutive bytes; a range is never empty.
    private static string Formula(FoundCarrySum carry, ChecksumStatement statement)
    {
        string sum = string.Join(" + ", Runs(statement.Over).Select(r => Text($"sum({r.First}, {r.Last})")));
        if (carry.Start > 0)
            sum += Text($" + {carry.Start}");
        string value = carry.Zero ? $"({sum}) % 255" : $"({sum} + 254) % 255 + 1";
        return carry.Inverted ? $"255 - ({value})" : value;
    }

    private static string Mixed(MixedByte mixed, string counter) => mixed switch
    {
        MixedLiteral literal => Number(literal.Value),
        MixedIdentifier { Number: 0 } => "id low byte",
        MixedIdentifier { Number: 1 } => "id high byte",
        MixedIdentifier part => Text($"id byte {part.Number}"),
        MixedLength => "length",
        MixedSecret secret => $"{{secret: {string.Join(' ', secret.Table.Select(b => (b ?? 0).ToString("X2", CultureInfo.InvariantCulture)))}, by: {counter}}}",
        _ => throw new ArgumentOutOfRangeException(nameof(mixed)),
    };

    private static string Ranges(IReadOnlyList<int> bytes)
    {
        var runs = Runs(bytes).Select(r => r.First == r.Last ? Text($"{r.First}") : Text($"{r.First}..{r.Last}")).ToList();
        return runs.Count is 1 ? runs[0] : $"[{string.Join(", ", runs)}]";
    }

    private static List<(int First, int Last)> Runs(IReadOnlyList<int> bytes)
    {
        var runs = new List<(int First, int Last)>();
        foreach (int b in bytes)
        {
            if (runs.Count > 0 && runs[^1].Last + 1 == b)
                runs[^1] = (runs[^1].First, b);
            else
                runs.Add((b, b));
        }

        return runs;
    }

    private static string Unit(bool nibbles) => nibbles ? "nibbles" : "bytes";

    private static string Suffix(SumFinish finish) => finish switch
    {
        SumFinish.Ones => "-ones",
        SumFinish.Twos => "-twos",
        _ => "",
    };

    private static string Complement(SumFinish finish) => finish switch
    {
        SumFinish.Ones => ", complement: ones",
        SumFinish.Twos => ", complement: twos",
        _ => "",
    };

    private static string YesNo(bool value) => value ? "yes" : "no";

    private static string Number(ulong value) => value is 0 ? "0" : Text($"0x{value:X2}");

    private static string Text(FormattableString text) => FormattableString.Invariant(text);
}
