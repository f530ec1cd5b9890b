namespace Locum.Formulas;

/// <summary>Makes parts of formulas with their ranges; a part with only one possible value becomes a constant.</summary>
public static class NodeFactory
{
    /// <summary>The value of a name; null when its bits do not fit 32 bits signed.</summary>
    public static FormulaNode? Read(Place place, FormulaSymbol symbol)
    {
        if (symbol.Constant is { } raw)
            return symbol.Extend(raw) is >= int.MinValue and <= int.MaxValue and var value ? new ConstantNode(place, (int)value) : null;
        return Interval.OfField(symbol.Bits, symbol.Signed) is { } range ? new ReadNode(place, symbol, range) : null;
    }

    public static FormulaNode Unary(Place place, UnaryOperator operation, FormulaNode part) =>
        operation is UnaryOperator.Plus ? part : Fold(new UnaryNode(place, operation, part, operation is UnaryOperator.Not && part.Truth is { } truth ? Bool(!truth) : Ranges.Of(operation, part.Range)));

    public static FormulaNode Binary(Place place, Place sign, BinaryOperator operation, FormulaNode left, FormulaNode right)
    {
        var range = Facts.Truth(operation, left, right) is { } truth ? Bool(truth) : Ranges.Of(operation, left.Range, right.Range);
        return Fold(new BinaryNode(place, sign, operation, left, right, range));
    }

    public static FormulaNode Choice(Place place, FormulaNode condition, FormulaNode then, FormulaNode otherwise) =>
        Fold(new ChoiceNode(place, condition, then, otherwise));

    /// <summary>min, max, abs or clamp.</summary>
    public static FormulaNode Call(Place place, FormulaFunction function, IReadOnlyList<FormulaNode> arguments)
    {
        var range = function switch
        {
            FormulaFunction.Min => Ranges.Min(arguments[0].Range, arguments[1].Range),
            FormulaFunction.Max => Ranges.Max(arguments[0].Range, arguments[1].Range),
            FormulaFunction.Abs => Ranges.Abs(arguments[0].Range),
            FormulaFunction.Clamp => Ranges.Min(Ranges.Max(arguments[0].Range, arguments[1].Range), arguments[2].Range),
            _ => throw new ArgumentOutOfRangeException(nameof(function)),
        };
        return Fold(new CallNode(place, function, arguments, range));
    }

    public static FormulaNode Bits(Place place, FormulaNode value, int from, int count) => Fold(new BitsNode(place, value, from, count));

    public static FormulaNode WideBits(Place place, FormulaSymbol symbol, int from, int count) => symbol.Constant is { } raw
        ? new ConstantNode(place, Arithmetic.Bits(symbol.Extend(raw), from, count)) : new WideBitsNode(place, symbol, from, count);

    private static Interval Bool(bool value) => Interval.One(value ? 1 : 0);

    // A value of a known part is never looked up, so that the generated C compares no constants.
    private static FormulaNode Fold(FormulaNode node) => node.Range.Only is { } only ? new ConstantNode(node.Place, only, From: node) : node;
}
