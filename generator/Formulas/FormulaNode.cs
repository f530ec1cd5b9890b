namespace Locum.Formulas;

/// <summary>A place in a formula's text: first character and number of characters.</summary>
public readonly record struct Place(int Start, int Length);

/// <summary>A part of a formula. Its value is a 32-bit signed integer; parts without several possible values are constants.</summary>
/// <param name="Range">Values the part can have.</param>
/// <param name="Key">Canonical text: equal for parts that always have the same value in one evaluation.</param>
public abstract record FormulaNode(Place Place, Interval Range, string Key)
{
    /// <summary>Parts this one is made of, in order of evaluation.</summary>
    public virtual IReadOnlyList<FormulaNode> Parts => [];

    /// <summary>The parts that the value depends on; others are known never to matter.</summary>
    public virtual IReadOnlyList<FormulaNode> Deciding => Parts;

    /// <summary>Whether the value is never 0 (true), always 0 (false), or both happen (null).</summary>
    public bool? Truth => Range.Only is 0 ? false : !Range.Contains(0) || Facts.NeverZero(this) ? true : null;
}

/// <summary>A number, written as such or the only possible value of a part.</summary>
/// <param name="From">The part with only one possible value; null for a written number.</param>
public sealed record ConstantNode(Place Place, int Value, bool Hexadecimal = false, FormulaNode? From = null)
    : FormulaNode(Place, Interval.One(Value), $"{Value}");

/// <summary>The value of a field or counter, sign extended when the field is signed.</summary>
public sealed record ReadNode(Place Place, FormulaSymbol Symbol, Interval Range) : FormulaNode(Place, Range, Symbol.Name);

/// <summary>Whether the module is in a mode (or is not).</summary>
/// <param name="Mode">Index in the module's list of modes.</param>
public sealed record ModeNode(Place Place, int Mode, bool Equal) : FormulaNode(Place, Interval.Truth, $"mode{(Equal ? "==" : "!=")}{Mode}");

public sealed record UnaryNode(Place Place, UnaryOperator Operator, FormulaNode Part, Interval Range)
    : FormulaNode(Place, Range, $"{Operators.Sign(Operator)}({Part.Key})")
{
    public override IReadOnlyList<FormulaNode> Parts => [Part];
}

/// <param name="SignPlace">Where the operator stands.</param>
public sealed record BinaryNode(Place Place, Place SignPlace, BinaryOperator Operator, FormulaNode Left, FormulaNode Right, Interval Range)
    : FormulaNode(Place, Range, $"({Left.Key}){Operators.Sign(Operator)}({Right.Key})")
{
    public override IReadOnlyList<FormulaNode> Parts => [Left, Right];

    public override IReadOnlyList<FormulaNode> Deciding =>
        Operator is BinaryOperator.AndAlso or BinaryOperator.OrElse ? [.. Parts.Where(p => p.Truth is null)] : Parts;
}

public sealed record ChoiceNode(Place Place, FormulaNode Condition, FormulaNode Then, FormulaNode Else)
    : FormulaNode(Place, Condition.Truth is { } holds ? (holds ? Then : Else).Range : Then.Range.Join(Else.Range), $"({Condition.Key})?({Then.Key}):({Else.Key})")
{
    /// <summary>The part that is always chosen; null when both can be.</summary>
    public FormulaNode? Live => Condition.Truth is { } holds ? holds ? Then : Else : null;

    public override IReadOnlyList<FormulaNode> Parts => [Condition, Then, Else];

    public override IReadOnlyList<FormulaNode> Deciding => Live is { } live ? [live] : Parts;
}

/// <summary>A helper on values: min, max, abs, clamp.</summary>
public sealed record CallNode(Place Place, FormulaFunction Function, IReadOnlyList<FormulaNode> Arguments, Interval Range)
    : FormulaNode(Place, Range, $"{Function}({string.Join(',', Arguments.Select(a => a.Key))})")
{
    public override IReadOnlyList<FormulaNode> Parts => Arguments;
}

/// <summary>Some bits of a value.</summary>
/// <param name="From">Lowest bit, 0..31.</param>
/// <param name="Count">1..31.</param>
public sealed record BitsNode(Place Place, FormulaNode Value, int From, int Count)
    : FormulaNode(Place, Ranges.Bits(Value.Range, From, Count), $"bits({Value.Key},{From},{Count})")
{
    public override IReadOnlyList<FormulaNode> Parts => [Value];
}

/// <summary>Some bits of a field that is too wide for 32-bit signed arithmetic.</summary>
/// <param name="From">Lowest bit, 0..63.</param>
/// <param name="Count">1..31.</param>
public sealed record WideBitsNode(Place Place, FormulaSymbol Symbol, int From, int Count)
    : FormulaNode(Place, new Interval(0, (1L << Count) - 1), $"bits({Symbol.Name},{From},{Count})");

/// <summary>Payload bytes as they stand when the formula is evaluated: one byte, or the sum or the exclusive-or of several.</summary>
public sealed record BytesNode(Place Place, FormulaFunction Function, int First, int Last)
    : FormulaNode(Place, new Interval(0, Function is FormulaFunction.Sum ? 255 * (Last - First + 1) : 255), $"{Function}({First},{Last})");
