using System.Globalization;

namespace Locum.Tests.Properties;

/// <summary>Random formulas without an error: the ranges of parts that are multiplied, added or shifted contain 0, so nothing wraps always.</summary>
/// <param name="names">What can be read.</param>
internal sealed class FormulaLine(Dice dice, int length, IReadOnlyList<FormulaName> names, IReadOnlyList<string> modes)
{
    private const int LargestLiteral = 15;
    private const int Depth = 3;

    private static readonly string[] s_comparisons = ["==", "!=", "<", "<=", ">", ">="];

    // Inside a choice a comparison may pin a name to one value.
    private int _choices;

    /// <summary>Names of received frames were read.</summary>
    public bool Listens { get; private set; }

    public string Draw()
    {
        var text = Zero(dice.Between(0, Depth));
        var heard = names.Where(n => n.Received && text.Contains(n.Word, StringComparison.Ordinal)).ToList();
        Listens = heard.Count > 0;
        // Keeps a received field in the formula, however much of it is always 0.
        return Listens ? $"{text} ^ bits({dice.Pick(heard).Word}, 0, 1)" : text;
    }

    // An expression whose range contains 0.
    private string Zero(int depth)
    {
        if (depth is 0)
            return Leaf();
        return dice.Between(0, 15) switch
        {
            0 or 1 => $"({Zero(depth - 1)} {dice.Pick("+", "-")} {Zero(depth - 1)})",
            2 => $"({Zero(depth - 1)} * {Any(depth - 1)})",
            3 or 4 => $"({Zero(depth - 1)} {dice.Pick("/", "%")} {Divisor(depth - 1)})",
            5 => $"({Zero(depth - 1)} {dice.Pick("<<", ">>")} {Count(depth - 1)})",
            6 => $"({Zero(depth - 1)} & {Any(depth - 1)})",
            7 => $"({Zero(depth - 1)} {dice.Pick("|", "^")} {Zero(depth - 1)})",
            8 => $"{dice.Pick("min", "max")}({Zero(depth - 1)}, {Zero(depth - 1)})",
            9 => $"abs({Zero(depth - 1)})",
            10 => $"clamp({Zero(depth - 1)}, {-dice.Between(0, 40_000)}, {dice.Between(0, 100_000)})",
            11 => $"bits({Zero(depth - 1)}, {dice.Between(0, 8)}, {dice.Between(1, 23)})",
            12 or 13 => Choice(depth),
            14 => $"(- {Zero(depth - 1)})",
            _ => Leaf(),
        };
    }

    private string Choice(int depth)
    {
        var condition = Truth(depth - 1);
        _choices++;
        var text = $"({condition} ? {Zero(depth - 1)} : {Zero(depth - 1)})";
        _choices--;
        return text;
    }

    private string Any(int depth) => depth is 0 ? dice.Pick(Leaf(), Literal()) : dice.Between(0, 7) switch
    {
        0 => $"({Zero(depth - 1)} {dice.Pick("+", "-")} {Literal()})",
        1 => $"(~{Zero(depth - 1)})",
        2 => $"(!{Zero(depth - 1)})",
        3 => Truth(depth),
        _ => Zero(depth - 1),
    };

    private string Truth(int depth)
    {
        if (depth > 0 && dice.Chance(30))
        {
            _choices++;
            var both = $"({Truth(depth - 1)} {dice.Pick("&&", "||")} {Truth(depth - 1)})";
            _choices--;
            return both;
        }
        if (dice.Chance(25))
            return $"(mode {dice.Pick("==", "!=")} {Word(dice.Pick(modes))})";
        var depthLeft = Math.Max(0, depth - 1);
        return dice.Chance(20) ? Zero(depthLeft) : $"({Zero(depthLeft)} {dice.Pick(s_comparisons)} {Any(depthLeft)})";
    }

    private string Divisor(int depth) => dice.Chance(40) || _choices > 0 ? dice.Pick($"{dice.Between(2, 1_000)}", $"(-{dice.Between(2, 9)})", $"({Zero(depth)} | 1)") : Leaf(noSum: true);

    private string Count(int depth) => dice.Chance(40) || _choices > 0 ? dice.Pick($"{dice.Between(0, 31)}", $"({Zero(depth)} & 31)") : Leaf(noSum: true);

    private string Literal() => dice.Pick($"{dice.Between(0, LargestLiteral)}", $"0x{dice.Between(0, LargestLiteral):X}", $"0b{Convert.ToString(dice.Between(0, LargestLiteral), 2)}");

    // Names of fields that can be 0, or bytes of the payload.
    private string Leaf(bool noSum = false)
    {
        var readable = names.Where(n => !n.Constant).ToList();
        if (readable.Count > 0 && dice.Chance(75))
        {
            var name = dice.Pick(readable);
            if (name.Bits <= (name.Signed ? 32 : 31) && dice.Chance(85))
                return name.Word;
            var count = dice.Between(1, Math.Min(31, name.Bits));
            return $"bits({name.Word}, {dice.Between(0, name.Bits - count)}, {count})";
        }
        var first = dice.Between(0, length - 1);
        return noSum || dice.Chance(60) ? $"byte({first})" : $"{dice.Pick("sum", "xor")}({first}, {dice.Between(first, length - 1)})";
    }

    private static string Word(string name) => FormulaName.ToWord(name);
}

/// <summary>A name that formulas can read.</summary>
/// <param name="Constant">Always has the same value.</param>
internal sealed record FormulaName(string Word, int Bits, bool Signed, bool Constant, bool Received)
{
    public static string ToWord(string name) => string.Concat(name.Select(c => char.IsLetterOrDigit(c) ? c.ToString(CultureInfo.InvariantCulture) : "_"));

    public static IEnumerable<FormulaName> Of(DrawnReceive received) =>
        received.Fields.Select(f => new FormulaName($"{ToWord(received.Name)}.{ToWord(f.Name)}", f.Bits, f.Signed, false, true));
}
