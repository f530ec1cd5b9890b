namespace Locum.Formulas;

/// <summary>The arithmetic of formulas on 32-bit signed integers, as shared/core/RULES.md defines it; nothing throws.</summary>
public static class Arithmetic
{
    /// <summary>A shift count outside 0..31 gives 0.</summary>
    public const int MostShift = 31;

    public static int Negate(int x) => unchecked(-x);

    /// <summary>The smallest value has no positive counterpart and stays as it is.</summary>
    public static int Abs(int x) => x < 0 ? unchecked(-x) : x;

    public static int Clamp(int x, int low, int high) => Math.Min(Math.Max(x, low), high);

    /// <summary>Bits of x, the lowest of them at <paramref name="from"/>.</summary>
    /// <param name="from">0..31.</param>
    /// <param name="count">1..31.</param>
    public static int Bits(long x, int from, int count) => (int)((ulong)x >> from & ((1UL << count) - 1));

    public static int Apply(UnaryOperator operation, int x) => operation switch
    {
        UnaryOperator.Plus => x,
        UnaryOperator.Minus => Negate(x),
        UnaryOperator.Complement => ~x,
        UnaryOperator.Not => x is 0 ? 1 : 0,
        _ => throw new ArgumentOutOfRangeException(nameof(operation)),
    };

    public static int Apply(BinaryOperator operation, int a, int b) => unchecked(operation switch
    {
        BinaryOperator.Add => a + b,
        BinaryOperator.Subtract => a - b,
        BinaryOperator.Multiply => a * b,
        BinaryOperator.Divide => b is 0 ? 0 : b is -1 ? -a : a / b,
        BinaryOperator.Remainder => b is 0 or -1 ? 0 : a % b,
        BinaryOperator.ShiftLeft => b is < 0 or > MostShift ? 0 : a << b,
        BinaryOperator.ShiftRight => b is < 0 or > MostShift ? 0 : a >> b,
        BinaryOperator.And => a & b,
        BinaryOperator.Or => a | b,
        BinaryOperator.Xor => a ^ b,
        BinaryOperator.Equal => Truth(a == b),
        BinaryOperator.NotEqual => Truth(a != b),
        BinaryOperator.Less => Truth(a < b),
        BinaryOperator.LessOrEqual => Truth(a <= b),
        BinaryOperator.Greater => Truth(a > b),
        BinaryOperator.GreaterOrEqual => Truth(a >= b),
        BinaryOperator.AndAlso => Truth(a is not 0 && b is not 0),
        BinaryOperator.OrElse => Truth(a is not 0 || b is not 0),
        _ => throw new ArgumentOutOfRangeException(nameof(operation)),
    });

    private static int Truth(bool value) => value ? 1 : 0;
}
