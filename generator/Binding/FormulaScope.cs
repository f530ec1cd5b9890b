using Locum.Formulas;
using Locum.Model;

namespace Locum.Binding;

/// <summary>The names that the formula of one field can use.</summary>
internal sealed class FormulaScope : IFormulaScope
{
    // Wider received fields cannot be read by the generated code.
    private const int WidestReceived = 32;
    private const int IdentifierBits = 29;
    private const int LengthBits = 8;

    private readonly Dictionary<string, FormulaSymbol> _symbols = new(StringComparer.Ordinal);

    /// <param name="fields">Fields being bound.</param>
    /// <param name="stages">For each of them when it is written.</param>
    /// <param name="own">Index of the formula's field among them.</param>
    public FormulaScope(FormulaContext context, IReadOnlyList<Field> fields, IReadOnlyList<FieldStage> stages, int own, Bound bound)
    {
        Length = context.Length;
        Modes = [.. bound.ModeNames.Select(FormulaParser.Word)];
        Add(new FormulaSymbol { Name = "id", Origin = FormulaOrigin.Field, Bits = IdentifierBits, Constant = context.Id.Value });
        Add(new FormulaSymbol { Name = "length", Origin = FormulaOrigin.Field, Bits = LengthBits, Constant = (ulong)Length });
        for (var i = 0; i < context.Before.Count; i++)
            AddField(context, context.Before[i], i, StageOf(context.Before[i].Source) > stages[own]);
        for (var i = 0; i < fields.Count; i++)
            AddField(context, fields[i], context.Before.Count + i, stages[i] > stages[own] || (stages[i] == stages[own] && i >= own));
        // A checksum is about the payload; what is received has been written into fields by then.
        if (stages[own] is FieldStage.Checksum)
            return;
        for (var frame = 0; frame < bound.Receives.Count; frame++)
            for (var field = 0; field < bound.Receives[frame].Fields.Count; field++)
                AddReceived(bound.Receives[frame], frame, field);
    }

    public int Length { get; }

    public IReadOnlyList<string> Modes { get; }

    /// <summary>Without what comes later, and without second names.</summary>
    public IReadOnlyList<string> Names =>
        [.. _symbols.Values.Where(s => !s.Later && (s.Origin is FormulaOrigin.Received || !s.Name.Contains('.', StringComparison.Ordinal))).Select(s => s.Name)];

    public FormulaSymbol? Find(string name) => _symbols.GetValueOrDefault(name);

    // A field called like a word of formulas is reached through its frame's name.
    private void AddField(FormulaContext context, Field field, int index, bool later)
    {
        if (field.Source is null && !later && context.BaseChanges)
            return;
        var word = FormulaParser.Word(field.Name);
        var symbol = new FormulaSymbol
        {
            Name = word,
            Origin = FormulaOrigin.Field,
            Index = index,
            Bits = field.Bits,
            Signed = field.Signed,
            Later = later,
            Constant = field.Source switch { FixedValue value => value.Raw, null when !later => BaseBits(field, context.Base), _ => null },
        };
        Add(symbol);
        Add(symbol with { Name = $"{FormulaParser.Word(context.Frame)}.{word}" });
    }

    private void AddReceived(ReceivedFrame received, int frame, int index)
    {
        var field = received.Fields[index];
        if (field.Bits <= WidestReceived)
            Add(new FormulaSymbol
            {
                Name = $"{FormulaParser.Word(received.Name)}.{FormulaParser.Word(field.Name)}",
                Origin = FormulaOrigin.Received,
                Frame = frame,
                Index = index,
                Bits = field.Bits,
                Signed = field.Signed,
            });
    }

    private static FieldStage StageOf(FieldSource? source) => source switch
    {
        FormulaValue => FieldStage.Formula,
        ChecksumValue => FieldStage.Checksum,
        _ => FieldStage.Value,
    };

    private void Add(FormulaSymbol symbol) => _symbols.TryAdd(symbol.Name, symbol);

    private static ulong BaseBits(Field field, byte[] bytes)
    {
        var raw = 0UL;
        foreach (var (position, i) in field.Positions().Select((p, i) => (p, i)))
            if (position >= 0 && position < bytes.Length * 8)
                raw |= (ulong)(bytes[position / 8] >> (position % 8) & 1) << i;
        return raw;
    }
}
