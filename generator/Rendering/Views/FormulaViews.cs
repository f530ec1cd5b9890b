using Locum.Binding;
using Locum.Formulas;
using Locum.Model;

namespace Locum.Rendering.Views;

internal static class FormulaViews
{
    private const int MostComment = 100;
    private const int MostLine = 84;

    public static FormulaView Of(Formula formula, ulong? lost, Field field, Frame frame, Module module, IReadOnlyList<CounterView> counters, IReadOnlyList<string> modeNames)
    {
        var text = new FormulaC(s => Read(s, frame, module, counters), m => modeNames[m]).Value(formula.Root);
        var there = formula.Symbols.Where(s => s.Origin is FormulaOrigin.Received).Select(s => s.Frame).Distinct().Order();
        return new FormulaView(
            Break(Cut(text, formula.Root.Range, field)),
            [.. there.Select(r => ReceiveViews.There(module, r))],
            lost is { } raw ? FrameViews.Number(raw, TypeBits(field)) : "",
            formula.ReadsMode);
    }

    public static string Comment(string place, Formula formula)
    {
        // A formula has no comment marks, quotes or backslashes; '<' and '>' are to stay.
        var text = $"{place}: {string.Concat(formula.Text.Select(c => c <= '~' ? c : '_'))}";
        return text.Length <= MostComment ? text : $"{text[..MostComment]}...";
    }

    /// <summary>True if a formula of the frame reads the variable of a field.</summary>
    public static bool IsRead(Field field, Frame frame)
    {
        var index = frame.Fields.ToList().FindIndex(f => ReferenceEquals(f, field));
        return field.Source is not CounterValue && frame.Fields.Select(FormulaOf).OfType<Formula>()
            .Any(f => f.Symbols.Any(s => s.Origin is FormulaOrigin.Field && s.Index == index));
    }

    /// <summary>Received fields that formulas read.</summary>
    public static IEnumerable<(int Received, int Field)> Received(Module module) =>
        All(module).SelectMany(f => f.Symbols).Where(s => s.Origin is FormulaOrigin.Received).Select(s => (s.Frame, s.Index));

    public static IEnumerable<Formula> All(Module module) => module.Frames.SelectMany(f => f.AllFields).Select(FormulaOf).OfType<Formula>();

    private static Formula? FormulaOf(Field field) => field.Source switch
    {
        FormulaValue value => value.Formula,
        ChecksumValue { Checksum.Rule: FormulaRule rule } => rule.Formula,
        _ => null,
    };

    private static string Read(FormulaSymbol symbol, Frame frame, Module module, IReadOnlyList<CounterView> counters)
    {
        if (symbol.Origin is FormulaOrigin.Received)
            return $"{ReceiveViews.Reader(module, symbol.Frame, symbol.Index)}()";
        var field = frame.Fields[symbol.Index];
        if (field.Source is CounterValue counter)
            return field.Bits > 32 ? $"(uint64_t){counters[counter.Counter].C}" : counters[counter.Counter].C; // counters have 32 bits
        var c = $"value_{Names.ToC(field.Name)}";
        // The variables of checksums and followers may hold more bits than the field.
        return field.Bits < TypeBits(field) && field.Source is ChecksumValue ? $"({c} & {FrameViews.Number(Mask(field.Bits), TypeBits(field))})" : c;
    }

    // The value with the field's type, without bits above the field's.
    private static string Cut(string text, Interval range, Field field)
    {
        var (bits, type) = (TypeBits(field), $"uint{TypeBits(field)}_t");
        if (field.Bits == bits || (range.Low >= 0 && (ulong)range.High <= Mask(field.Bits)))
            return $"({type})({text})";
        return bits is 64 ? $"(uint64_t)({text}) & UINT64_C(0x{Mask(field.Bits):X})" : $"({type})(({text}) & 0x{Mask(field.Bits):X})";
    }

    private static IReadOnlyList<string> Break(string text)
    {
        var lines = new List<string>();
        while (text.Length > MostLine && text.LastIndexOf(' ', MostLine) is > 0 and var blank)
        {
            lines.Add(text[..blank]);
            text = text[(blank + 1)..];
        }
        return [.. lines, text];
    }

    private static ulong Mask(int bits) => ulong.MaxValue >> (64 - bits);

    private static int TypeBits(Field field) => field.Bits <= 8 ? 8 : field.Bits <= 16 ? 16 : field.Bits <= 32 ? 32 : 64;
}
