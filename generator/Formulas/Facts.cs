namespace Locum.Formulas;

/// <summary>Finds comparisons that always or never hold although the ranges of their sides do not tell. C compilers warn about them.</summary>
internal static class Facts
{
    /// <summary>The value of a comparison or of a logical operator; null when it can be both.</summary>
    public static bool? Truth(BinaryOperator operation, FormulaNode left, FormulaNode right)
    {
        if (operation is BinaryOperator.AndAlso)
            return left.Truth is false || right.Truth is false || Exclude(left, right, true) ? false : left.Truth is true && right.Truth is true ? true : null;
        if (operation is BinaryOperator.OrElse)
            return left.Truth is true || right.Truth is true || Exclude(left, right, false) ? true : left.Truth is false && right.Truth is false ? false : null;
        if (!Operators.IsComparison(operation))
            return null;
        if (left.Key == right.Key)
            return operation is BinaryOperator.Equal or BinaryOperator.LessOrEqual or BinaryOperator.GreaterOrEqual;
        if (operation is BinaryOperator.Equal or BinaryOperator.NotEqual && (NeverEqual(left, right) || NeverEqual(right, left)))
            return operation is BinaryOperator.NotEqual;
        return null;
    }

    /// <summary>True for x | 1, x == 0 ? 1 : x and the like.</summary>
    public static bool NeverZero(FormulaNode node) => node switch
    {
        BinaryNode { Operator: BinaryOperator.Or } either => either.Left.Range.Only is not (null or 0) || either.Right.Range.Only is not (null or 0),
        ChoiceNode { Condition: BinaryNode { Operator: BinaryOperator.Equal, Right.Range.Only: 0 } zero } choice => choice.Else.Key == zero.Left.Key && choice.Then.Truth is true,
        ChoiceNode { Condition: BinaryNode { Operator: BinaryOperator.NotEqual, Right.Range.Only: 0 } some } choice => choice.Then.Key == some.Left.Key && choice.Else.Truth is true,
        _ => false,
    };

    // (x & 0xF0) == 0x0F, (x | 1) == 2
    private static bool NeverEqual(FormulaNode masked, FormulaNode value)
    {
        if (masked is not BinaryNode { Operator: BinaryOperator.And or BinaryOperator.Or } binary || value.Range.Only is not { } wanted)
            return false;
        if ((binary.Left.Range.Only ?? binary.Right.Range.Only) is not { } mask)
            return false;
        return binary.Operator is BinaryOperator.And ? (wanted & ~mask) != 0 : (mask & ~wanted) != 0;
    }

    // Whether no value makes both sides true (or, with wanted = false, both false).
    private static bool Exclude(FormulaNode left, FormulaNode right, bool wanted)
    {
        if (Limit(left, wanted) is not { } a || Limit(right, wanted) is not { } b || a.Key != b.Key)
            return false;
        return (a.Outside, b.Outside) switch
        {
            (false, false) => a.Low > b.High || b.Low > a.High,
            (true, true) => false,
            _ => a.Low == b.Low && a.High == b.High,
        };
    }

    // What a comparison with a constant says about its other side: within or outside some values.
    private static (string Key, long Low, long High, bool Outside)? Limit(FormulaNode node, bool wanted)
    {
        if (node is ModeNode mode)
            return ("mode", mode.Mode, mode.Mode, mode.Equal != wanted);
        if (node is not BinaryNode binary || !Operators.IsComparison(binary.Operator))
            return null;
        var (operation, value, limit) = (binary.Operator, binary.Left, binary.Right.Range.Only);
        if (limit is null)
            (operation, value, limit) = (Turn(operation), binary.Right, binary.Left.Range.Only);
        if (limit is not { } c)
            return null;
        return (wanted ? operation : Opposite(operation)) switch
        {
            BinaryOperator.Equal => (value.Key, c, c, false),
            BinaryOperator.NotEqual => (value.Key, c, c, true),
            BinaryOperator.Less => (value.Key, long.MinValue, c - 1L, false),
            BinaryOperator.LessOrEqual => (value.Key, long.MinValue, c, false),
            BinaryOperator.Greater => (value.Key, c + 1L, long.MaxValue, false),
            _ => (value.Key, c, long.MaxValue, false),
        };
    }

    // The operator with its sides exchanged.
    private static BinaryOperator Turn(BinaryOperator operation) => operation switch
    {
        BinaryOperator.Less => BinaryOperator.Greater,
        BinaryOperator.LessOrEqual => BinaryOperator.GreaterOrEqual,
        BinaryOperator.Greater => BinaryOperator.Less,
        BinaryOperator.GreaterOrEqual => BinaryOperator.LessOrEqual,
        _ => operation,
    };

    private static BinaryOperator Opposite(BinaryOperator operation) => operation switch
    {
        BinaryOperator.Equal => BinaryOperator.NotEqual,
        BinaryOperator.NotEqual => BinaryOperator.Equal,
        BinaryOperator.Less => BinaryOperator.GreaterOrEqual,
        BinaryOperator.LessOrEqual => BinaryOperator.Greater,
        BinaryOperator.Greater => BinaryOperator.LessOrEqual,
        _ => BinaryOperator.Less,
    };
}
