using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>Values of fields: physical → raw, by mode, by name.</summary>
internal static class FieldValues
{
    public static FieldSource? Bind(MappingReader reader, Field field, IReadOnlyList<int> modes, Bound bound)
    {
        switch (reader.Optional("value"))
        {
            case null:
                return null;
            case MappingNode byMode:
                return BindByMode(byMode, field, modes, bound);
            case ScalarNode scalar:
                return Raw(scalar, field, bound.Diagnostics) is { } raw ? new FixedValue(raw) : null;
            case var other:
                bound.Diagnostics.Add(Codes.WrongShape, other.Span, $"a value is one value or a mapping by mode, this is {other.Kind}", "write 'value: 21.0' or 'value: {running: 4, other: 0}'");
                return null;
        }
    }

    /// <summary>True if a raw value can be held by the field.</summary>
    public static bool Fits(decimal raw, Field field)
    {
        var all = Power(field.Bits);
        return field.Signed ? raw >= -all / 2 && raw < all / 2 : raw >= 0 && raw < all;
    }

    public static string Describe(Field field) => $"{(field.Signed ? "a signed" : "an unsigned")} field of {field.Bits} bit{(field.Bits is 1 ? "" : "s")}";

    private static ModeValue BindByMode(MappingNode node, Field field, IReadOnlyList<int> modes, Bound bound)
    {
        var raw = new Dictionary<int, ulong>();
        ulong? other = null;
        foreach (var (key, value) in node.Entries)
        {
            if (value is not ScalarNode scalar)
            {
                bound.Diagnostics.Add(Codes.WrongShape, value.Span, $"the value for a mode is a single value, this is {value.Kind}", "write one value behind the colon");
                continue;
            }
            if (key.Value is "other" && !bound.ModeNames.Contains("other"))
            {
                other = Raw(scalar, field, bound.Diagnostics);
                continue;
            }
            var mode = bound.Find(bound.ModeNames, key.Value, key.Span, Codes.UnknownMode, "mode");
            if (mode < 0)
                continue;
            if (!modes.Contains(mode))
                bound.Diagnostics.Add(Codes.ValueForUnsentMode, key.Span, $"the frame is not sent in mode '{key.Value}'", "leave the value out, or add the mode to 'in'");
            raw[mode] = Raw(scalar, field, bound.Diagnostics) ?? 0;
        }
        foreach (var mode in modes.Where(m => !raw.ContainsKey(m)))
        {
            if (other is null)
                bound.Diagnostics.Add(Codes.ModeWithoutValue, node.Span, $"'{field.Name}' has no value in mode '{bound.ModeNames[mode]}'", $"add '{bound.ModeNames[mode]}: <value>' or 'other: <value>'");
            raw[mode] = other ?? 0;
        }
        return new ModeValue(raw);
    }

    /// <summary>The least raw value of a field of up to 63 bits.</summary>
    public static long Lowest(Field field) => field.Signed ? -(1L << (field.Bits - 1)) : 0;

    /// <summary>The largest raw value of a field of up to 63 bits.</summary>
    public static long Highest(Field field) => field.Signed ? (1L << (field.Bits - 1)) - 1 : (1L << field.Bits) - 1;

    /// <summary>The bits of a raw value that fits the field.</summary>
    public static ulong Mask(decimal raw, Field field) => raw < 0
        ? (ulong)(Power(field.Bits) + raw)
        : (ulong)raw;

    /// <summary>The raw value of a physical or named one, for fields of up to 63 bits; null (and a finding) when it does not fit.</summary>
    public static long? RawSigned(ScalarNode scalar, Field field, DiagnosticBag diagnostics) => (long?)Exact(scalar, field, diagnostics);

    private static ulong? Raw(ScalarNode scalar, Field field, DiagnosticBag diagnostics) =>
        Exact(scalar, field, diagnostics) is { } raw ? Mask(raw, field) : null;

    private static decimal? Exact(ScalarNode scalar, Field field, DiagnosticBag diagnostics)
    {
        if (field.Names.TryGetValue(scalar.Value, out var named))
            return Fits(named, field) ? named : null; // reported with the names
        if (Quantity.Number(scalar.Value) is not { } physical)
        {
            if (field.Names.Count > 0)
                diagnostics.Add(Codes.UnknownValueName, scalar.Span, $"'{Printable.Short(scalar.Value)}' is neither a number nor a named value of the field", Nearest.Mend(scalar.Value, [.. field.Names.Keys], "named value"));
            else
                Scalars.Number(scalar, diagnostics, "the value");
            return null;
        }
        decimal exact;
        try
        {
            exact = (physical - field.Offset) / field.Scale;
        }
        catch (OverflowException)
        {
            diagnostics.Add(Codes.ValueOutside, scalar.Span, $"{Printable.Short(scalar.Value)} is far outside {Describe(field)}", "correct the value, the scale or the offset");
            return null;
        }
        var raw = Math.Round(exact, MidpointRounding.AwayFromZero);
        if (!Fits(raw, field))
        {
            diagnostics.Add(Codes.ValueOutside, scalar.Span, $"{Printable.Short(scalar.Value)} gives the raw value {raw}, which does not fit {Describe(field)}{Range(field)}", "correct the value, or widen the field");
            return null;
        }
        if (Math.Abs(raw - exact) > 0.000_000_1m)
            diagnostics.Add(Codes.ValueRounded, scalar.Span, $"{scalar.Value} is not a multiple of the scale; {Physical(raw, field)} will be sent", $"write {Physical(raw, field)}");
        return raw;
    }

    private static string Range(Field field)
    {
        var all = Power(field.Bits);
        var (low, high) = field.Signed ? (-all / 2, (all / 2) - 1) : (0, all - 1);
        var unit = field.Unit is null ? "" : $" {Printable.Short(field.Unit)}";
        return field.Scale is 1 && field.Offset is 0 ? $" ({low} to {high}{unit})" : $" ({Physical(low, field)} to {Physical(high, field)}{unit})";
    }

    private static decimal Physical(decimal raw, Field field)
    {
        try
        {
            return (raw * field.Scale) + field.Offset;
        }
        catch (OverflowException)
        {
            return raw;
        }
    }

    private static decimal Power(int bits) => bits is 64 ? 18_446_744_073_709_551_616m : 1UL << bits;
}
