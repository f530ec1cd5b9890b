namespace Locum.Formulas;

public enum UnaryOperator
{
    Plus,
    Minus,
    Complement,
    Not,
}

public enum BinaryOperator
{
    Add,
    Subtract,
    Multiply,
    Divide,
    Remainder,
    ShiftLeft,
    ShiftRight,
    And,
    Or,
    Xor,
    Equal,
    NotEqual,
    Less,
    LessOrEqual,
    Greater,
    GreaterOrEqual,

    /// <summary>Does not look at the right side when the left one is 0.</summary>
    AndAlso,

    /// <summary>Does not look at the right side when the left one is not 0.</summary>
    OrElse,
}

/// <summary>How operators are written.</summary>
public static class Operators
{
    public static string Sign(UnaryOperator operation) => operation switch
    {
        UnaryOperator.Plus => "+",
        UnaryOperator.Minus => "-",
        UnaryOperator.Complement => "~",
        UnaryOperator.Not => "!",
        _ => throw new ArgumentOutOfRangeException(nameof(operation)),
    };

    public static string Sign(BinaryOperator operation) => operation switch
    {
        BinaryOperator.Add => "+",
        BinaryOperator.Subtract => "-",
        BinaryOperator.Multiply => "*",
        BinaryOperator.Divide => "/",
        BinaryOperator.Remainder => "%",
        BinaryOperator.ShiftLeft => "<<",
        BinaryOperator.ShiftRight => ">>",
        BinaryOperator.And => "&",
        BinaryOperator.Or => "|",
        BinaryOperator.Xor => "^",
        BinaryOperator.Equal => "==",
        BinaryOperator.NotEqual => "!=",
        BinaryOperator.Less => "<",
        BinaryOperator.LessOrEqual => "<=",
        BinaryOperator.Greater => ">",
        BinaryOperator.GreaterOrEqual => ">=",
        BinaryOperator.AndAlso => "&&",
        BinaryOperator.OrElse => "||",
        _ => throw new ArgumentOutOfRangeException(nameof(operation)),
    };

    public static bool IsComparison(BinaryOperator operation) => operation is >= BinaryOperator.Equal and <= BinaryOperator.GreaterOrEqual;

    /// <summary>The result is 0 or 1.</summary>
    public static bool IsTruth(BinaryOperator operation) => operation >= BinaryOperator.Equal;
}
