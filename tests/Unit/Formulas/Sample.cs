using Locum.Diagnostics;
using Locum.Formulas;
using Locum.Text;

namespace Locum.Tests.Unit.Formulas;

/// <summary>Names of all widths, and what they hold.</summary>
internal sealed class Sample : IFormulaScope, IFormulaInputs
{
    private const int FrameBytes = 8;

    public static readonly IReadOnlyList<FormulaSymbol> Symbols =
    [
        Symbol("flag", 1, false), Symbol("u8", 8, false), Symbol("s8", 8, true), Symbol("s12", 12, true), Symbol("u16", 16, false), Symbol("s16", 16, true),
        Symbol("u31", 31, false), Symbol("s32", 32, true), Symbol("w32", 32, false), Symbol("w64", 64, false),
        Symbol("lock", 4, false), Symbol("after_run", 4, false), Symbol("Drive.speed", 16, false) with { Origin = FormulaOrigin.Received },
        Symbol("later", 8, false) with { Later = true }, Symbol("id", 11, false) with { Constant = 0x2D1 }, Symbol("length", 7, false) with { Constant = FrameBytes },
        Symbol("minus_one", 40, true) with { Constant = 0xFF_FFFF_FFFF },
    ];

    public int Length => FrameBytes;

    public IReadOnlyList<string> Modes { get; } = ["asleep", "running", "after_run"];

    public IReadOnlyList<string> Names => [.. Symbols.Select(s => s.Name)];

    public Dictionary<string, ulong> Values { get; } = [];

    public int Mode { get; set; }

    public byte[] Bytes { get; init; } = new byte[FrameBytes];

    public ReadOnlySpan<byte> Payload => Bytes;

    public FormulaSymbol? Find(string name) => Symbols.FirstOrDefault(s => s.Name == name);

    public ulong Raw(FormulaSymbol symbol) => Values[symbol.Name];

    /// <summary>Parses for a field of the given width; the text stands at line 1, column 1.</summary>
    public static (Formula? Formula, IReadOnlyList<Diagnostic> Found) Parse(string text, int bits = 32, bool signed = true)
    {
        var bag = new DiagnosticBag();
        var formula = FormulaParser.Parse(new FormulaText(text, new Span("test.yaml", 1, 1, 1, text.Length + 1)), new Sample(), bits, signed, bag);
        return (formula, bag.Sorted);
    }

    /// <summary>The value of a formula with all names at a value.</summary>
    public static int Evaluate(string text, long all = 0, int mode = 0)
    {
        var (formula, found) = Parse(text);
        var inputs = new Sample { Mode = mode };
        foreach (var symbol in Symbols)
            inputs.Values[symbol.Name] = (ulong)all;
        return Evaluator.Compile((formula ?? throw new InvalidOperationException(string.Join('\n', found))).Root)(inputs);
    }

    private static FormulaSymbol Symbol(string name, int bits, bool signed) => new() { Name = name, Origin = FormulaOrigin.Field, Bits = bits, Signed = signed };
}
