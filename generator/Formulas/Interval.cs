namespace Locum.Formulas;

/// <summary>The values an expression can have, both ends included; never empty, always within 32 bits signed.</summary>
public readonly record struct Interval
{
    public Interval(long low, long high)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(low, int.MinValue);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(high, int.MaxValue);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(low, high);
        Low = (int)low;
        High = (int)high;
    }

    public static Interval All { get; } = new(int.MinValue, int.MaxValue);

    public static Interval Truth { get; } = new(0, 1);

    public int Low { get; }

    public int High { get; }

    /// <summary>The only value, or null when there are several.</summary>
    public int? Only => Low == High ? Low : null;

    public static Interval One(int value) => new(value, value);

    /// <summary>Values of a field; null when some do not fit 32 bits signed.</summary>
    public static Interval? OfField(int bits, bool signed) => (bits, signed) switch
    {
        ( > 32, _) or (32, false) => null,
        (_, true) => new Interval(-(1L << (bits - 1)), (1L << (bits - 1)) - 1),
        _ => new Interval(0, (1L << bits) - 1),
    };

    public bool Contains(long value) => value >= Low && value <= High;

    public bool Within(Interval other) => Low >= other.Low && High <= other.High;

    public bool Meets(Interval other) => Low <= other.High && High >= other.Low;

    public Interval Join(Interval other) => new(Math.Min(Low, other.Low), Math.Max(High, other.High));

    public override string ToString() => Only is { } only ? $"{only}" : $"{Low} to {High}";
}
