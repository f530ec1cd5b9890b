namespace Locum.Formulas;

/// <summary>Ranges of results from ranges of operands. Every result that can occur lies in the range; the range may be wider.</summary>
public static class Ranges
{
    private const long Turn = 1L << 32;

    public static Interval Of(UnaryOperator operation, Interval x) => operation switch
    {
        UnaryOperator.Plus => x,
        UnaryOperator.Minus => Wrap(Exact(BinaryOperator.Subtract, Interval.One(0), x)!.Value),
        UnaryOperator.Complement => new Interval(~x.High, ~x.Low),
        UnaryOperator.Not => x.Only is 0 ? Interval.One(1) : x.Contains(0) ? Interval.Truth : Interval.One(0),
        _ => throw new ArgumentOutOfRangeException(nameof(operation)),
    };

    public static Interval Of(BinaryOperator operation, Interval a, Interval b)
    {
        if (a.Only is { } left && b.Only is { } right)
            return Interval.One(Arithmetic.Apply(operation, left, right));
        return operation switch
        {
            BinaryOperator.Divide => Divide(a, b),
            BinaryOperator.Remainder => Remainder(a, b),
            BinaryOperator.ShiftRight => ShiftRight(a, b),
            BinaryOperator.And => And(a, b),
            BinaryOperator.Or => Invert(And(Invert(a), Invert(b))),
            BinaryOperator.Xor => Xor(a, b),
            BinaryOperator.AndAlso or BinaryOperator.OrElse => Logic(operation, a, b),
            _ when Operators.IsComparison(operation) => Compare(operation, a, b),
            BinaryOperator.ShiftLeft when Exact(operation, a, b) is null => Interval.One(0),
            _ => WithZero(Wrap(Exact(operation, a, b)!.Value), operation is BinaryOperator.ShiftLeft && !InShift(b)),
        };
    }

    /// <summary>The range of +, -, * or &lt;&lt; before it is cut to 32 bits; null when no shift count is usable.</summary>
    public static (long Low, long High)? Exact(BinaryOperator operation, Interval a, Interval b)
    {
        switch (operation)
        {
            case BinaryOperator.Add:
                return ((long)a.Low + b.Low, (long)a.High + b.High);
            case BinaryOperator.Subtract:
                return ((long)a.Low - b.High, (long)a.High - b.Low);
            case BinaryOperator.Multiply:
                return Ends((long)a.Low * b.Low, (long)a.Low * b.High, (long)a.High * b.Low, (long)a.High * b.High);
            case BinaryOperator.ShiftLeft:
                var (first, last) = (Math.Max(b.Low, 0), Math.Min(b.High, Arithmetic.MostShift));
                return first > last ? null : Ends((long)a.Low << first, (long)a.Low << last, (long)a.High << first, (long)a.High << last);
            default:
                throw new ArgumentOutOfRangeException(nameof(operation));
        }
    }

    /// <summary>True when every shift count lies in 0..31.</summary>
    public static bool InShift(Interval count) => count.Low >= 0 && count.High <= Arithmetic.MostShift;

    public static Interval Abs(Interval x)
    {
        if (x.Low >= 0)
            return x;
        if (x.Low is int.MinValue)
            return x.High is int.MinValue ? x : Interval.All;
        return x.High <= 0 ? new Interval(-x.High, -x.Low) : new Interval(0, Math.Max(-x.Low, x.High));
    }

    public static Interval Min(Interval a, Interval b) => new(Math.Min(a.Low, b.Low), Math.Min(a.High, b.High));

    public static Interval Max(Interval a, Interval b) => new(Math.Max(a.Low, b.Low), Math.Max(a.High, b.High));

    public static Interval Bits(Interval x, int from, int count)
    {
        if (x.Only is { } only)
            return Interval.One(Arithmetic.Bits(only, from, count));
        var most = (1L << count) - 1;
        return x.Low >= 0 && x.High >> from <= most ? new Interval(x.Low >> from, x.High >> from) : new Interval(0, most);
    }

    // Exact when all values lose the same multiple of 2^32.
    private static Interval Wrap((long Low, long High) exact)
    {
        var turns = (exact.Low - int.MinValue) >> 32;
        return turns == (exact.High - int.MinValue) >> 32 ? new Interval(exact.Low - (turns * Turn), exact.High - (turns * Turn)) : Interval.All;
    }

    private static Interval WithZero(Interval range, bool zero) => zero ? range.Join(Interval.One(0)) : range;

    private static (long Low, long High) Ends(params ReadOnlySpan<long> values)
    {
        var (low, high) = (values[0], values[0]);
        foreach (var value in values)
            (low, high) = (Math.Min(low, value), Math.Max(high, value));
        return (low, high);
    }

    // The quotient runs monotonously in both operands as long as the divisor keeps its sign.
    private static Interval Divide(Interval a, Interval b)
    {
        if (a.Low is int.MinValue && b.Contains(-1))
            return Interval.All;
        Interval? range = b.Contains(0) ? Interval.One(0) : null;
        if (b.High > 0)
            Add(Math.Max(b.Low, 1), b.High);
        if (b.Low < 0)
            Add(b.Low, Math.Min(b.High, -1));
        return range!.Value;

        void Add(int first, int last)
        {
            var (low, high) = Ends(a.Low / first, a.Low / last, a.High / first, a.High / last);
            range = range?.Join(new Interval(low, high)) ?? new Interval(low, high);
        }
    }

    private static Interval Remainder(Interval a, Interval b)
    {
        var most = Math.Max(Math.Max(Math.Abs((long)b.Low), Math.Abs((long)b.High)) - 1, 0);
        return new Interval(a.Low < 0 ? Math.Max(a.Low, -most) : 0, a.High > 0 ? Math.Min(a.High, most) : 0);
    }

    private static Interval ShiftRight(Interval a, Interval b)
    {
        var (first, last) = (Math.Max(b.Low, 0), Math.Min(b.High, Arithmetic.MostShift));
        if (first > last)
            return Interval.One(0);
        var (low, high) = Ends(a.Low >> first, a.Low >> last, a.High >> first, a.High >> last);
        return WithZero(new Interval(low, high), !InShift(b));
    }

    private static Interval And(Interval a, Interval b)
    {
        if (a.Low >= 0 && b.Low >= 0)
            return new Interval(0, Math.Min(a.High, b.High));
        if (a.Low >= 0 || b.Low >= 0)
            return new Interval(0, a.Low >= 0 ? a.High : b.High);
        var high = a.High < 0 && b.High < 0 ? Math.Min(a.High, b.High) : Math.Max(a.High, b.High);
        return new Interval(~Ones(~Math.Min(a.Low, b.Low)), high);
    }

    private static Interval Xor(Interval a, Interval b)
    {
        var most = Ones(Magnitude(a) | Magnitude(b));
        var (sameSign, otherSign) = (Signs(a) & Signs(b), Signs(a) & Flip(Signs(b)));
        return new Interval(otherSign is 0 ? 0 : ~most, sameSign is 0 ? -1 : most);
    }

    // Bit 0: can be 0 or more; bit 1: can be negative.
    private static int Signs(Interval x) => (x.High >= 0 ? 1 : 0) | (x.Low < 0 ? 2 : 0);

    private static int Flip(int signs) => (signs & 1) << 1 | signs >> 1;

    // The widest bit pattern apart from the sign.
    private static int Magnitude(Interval x) => (x.Low < 0 ? ~x.Low : x.Low) | (x.High < 0 ? ~x.High : x.High);

    // All bits from the highest set one down.
    private static int Ones(int x) => x is 0 ? 0 : (int)((2L << int.Log2(x)) - 1);

    private static Interval Invert(Interval x) => new(~x.High, ~x.Low);

    private static Interval Logic(BinaryOperator operation, Interval a, Interval b)
    {
        var (isAnd, truthA, truthB) = (operation is BinaryOperator.AndAlso, Truth(a), Truth(b));
        if (truthA is { } left && left != isAnd)
            return Interval.One(left ? 1 : 0);
        if (truthB is { } right && right != isAnd)
            return Interval.One(right ? 1 : 0);
        return truthA is null || truthB is null ? Interval.Truth : Interval.One(isAnd ? 1 : 0);
    }

    private static bool? Truth(Interval x) => x.Only is 0 ? false : x.Contains(0) ? null : true;

    private static Interval Compare(BinaryOperator operation, Interval a, Interval b)
    {
        bool? known = operation switch
        {
            BinaryOperator.Equal => a.Meets(b) ? null : false,
            BinaryOperator.NotEqual => a.Meets(b) ? null : true,
            BinaryOperator.Less => Below(a, b, 0),
            BinaryOperator.LessOrEqual => Below(a, b, 1),
            BinaryOperator.Greater => Below(b, a, 0),
            BinaryOperator.GreaterOrEqual => Below(b, a, 1),
            _ => throw new ArgumentOutOfRangeException(nameof(operation)),
        };
        return known is { } truth ? Interval.One(truth ? 1 : 0) : Interval.Truth;
    }

    // Whether a < b + more for all values, for none, or for some.
    private static bool? Below(Interval a, Interval b, long more) => a.High < b.Low + more ? true : a.Low >= b.High + more ? false : null;
}
