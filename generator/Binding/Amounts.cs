using Locum.Diagnostics;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>Electrical quantities within limits; every method reports what it cannot read and returns null.</summary>
internal static class Amounts
{
    public static decimal? Ohm(SyntaxNode? node, DiagnosticBag diagnostics, string what) => Read(node, diagnostics, what, Quantity.Ohm, "120 ohm or 4.7 kohm", "ohm", 0.001m, 100_000_000);

    public static decimal? Ampere(SyntaxNode? node, DiagnosticBag diagnostics, string what) => Read(node, diagnostics, what, Quantity.Ampere, "2 A or 50 mA", "A", 0.000_001m, 500);

    public static decimal? Watt(SyntaxNode? node, DiagnosticBag diagnostics, string what) => Read(node, diagnostics, what, Quantity.Watt, "2 W or 250 mW", "W", 0.000_001m, 10_000);

    public static decimal? Volt(SyntaxNode? node, DiagnosticBag diagnostics, string what, decimal least = 0.1m) => Read(node, diagnostics, what, Quantity.Volt, "13.5 V", "V", least, 60);

    public static decimal? Farad(SyntaxNode? node, DiagnosticBag diagnostics, string what) => Read(node, diagnostics, what, Quantity.Farad, "2200 uF", "F", 0.000_000_001m, 100);

    public static decimal? Metre(SyntaxNode? node, DiagnosticBag diagnostics, string what) => Read(node, diagnostics, what, Quantity.Metre, "3 m or 40 cm", "m", 0.001m, 10_000);

    public static decimal? Section(SyntaxNode? node, DiagnosticBag diagnostics, string what) => Read(node, diagnostics, what, Quantity.SquareMillimetre, "0.75 mm2", "mm2", 0.05m, 120);

    public static decimal? Percent(SyntaxNode? node, DiagnosticBag diagnostics, string what, decimal most) => Read(node, diagnostics, what, Quantity.Percent, "1 %", "%", 0, most);

    public static decimal? Celsius(SyntaxNode? node, DiagnosticBag diagnostics, string what) => Read(node, diagnostics, what, Quantity.Celsius, "60 degC", "degC", -55, 400);

    private static decimal? Read(SyntaxNode? node, DiagnosticBag diagnostics, string what, Func<string, decimal?> parse, string example, string unit, decimal least, decimal most)
    {
        if (Scalars.WithUnit(node, diagnostics, what, parse, example) is not { } value)
            return null;
        if (value >= least && value <= most)
            return value;
        diagnostics.Add(Codes.OutOfRange, node!.Span, $"{what} of {value} {unit} lies outside {least} to {most} {unit}", $"choose a value from {least} to {most} {unit}");
        return null;
    }
}
