using Locum.Binding;
using Locum.Model;

namespace Locum.Rendering.Views;

internal static class FollowViews
{
    public static string Name(FollowValue follow, Module module) =>
        CText.Comment($"{module.Receives[follow.Received].Name}.{module.Receives[follow.Received].Fields[follow.Field].Name}");

    /// <param name="lost">The value while the frame is lost, in a C type of so many bits.</param>
    public static FollowView Of(FollowValue follow, Module module, ulong lost, int bits)
    {
        var source = module.Receives[follow.Received].Fields[follow.Field];
        var half = follow.Denominator / 2;
        var (least, most) = Range(follow, source);
        var wide = ReceiveViews.IsWide(source) || least - half < int.MinValue || most + half > int.MaxValue
            || follow.Numerator is < int.MinValue or > int.MaxValue || follow.Addend is < int.MinValue or > int.MaxValue
            || follow.Low > int.MaxValue;
        var type = wide ? "int64_t" : "int32_t";
        var read = $"{ReceiveViews.Reader(module, follow.Received, follow.Field)}()";
        var product = follow.Numerator is 1 ? read : $"{read} * {Number(follow.Numerator, wide)}";
        var sum = follow.Addend is 0 ? product
            : follow.Addend > 0 ? $"{product} + {Number(follow.Addend, wide)}" : $"{product} - {Number(-follow.Addend, wide)}";
        return new FollowView(
            ReceiveViews.There(module, follow.Received),
            type,
            sum,
            follow.Denominator is 1 ? "" : Number(follow.Denominator, wide),
            Number(half, wide),
            Rounded(least, follow.Denominator) < follow.Low ? ConditionText.Number(follow.Low) : "",
            Rounded(most, follow.Denominator) > follow.High ? ConditionText.Number(follow.High) : "",
            FrameViews.Number(lost, bits));
    }

    // What the value before the division can be, over all raw values of the received field.
    private static (Int128 Least, Int128 Most) Range(FollowValue follow, Field source)
    {
        var low = source.Signed ? -(1L << (source.Bits - 1)) : 0;
        var high = source.Signed ? (1L << (source.Bits - 1)) - 1 : (1L << source.Bits) - 1;
        var a = ((Int128)low * follow.Numerator) + follow.Addend;
        var b = ((Int128)high * follow.Numerator) + follow.Addend;
        return (Int128.Min(a, b), Int128.Max(a, b));
    }

    private static Int128 Rounded(Int128 value, long denominator) => (value < 0 ? value - (denominator / 2) : value + (denominator / 2)) / denominator;

    private static string Number(long value, bool wide) => wide ? $"INT64_C({value})" : value is >= short.MinValue and <= short.MaxValue ? $"{value}" : $"INT32_C({value})";
}
