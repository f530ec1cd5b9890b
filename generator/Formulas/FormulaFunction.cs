namespace Locum.Formulas;

/// <summary>The helpers a formula can call.</summary>
public enum FormulaFunction
{
    Min,
    Max,
    Abs,
    Clamp,
    Bits,
    Byte,
    Sum,
    Xor,
}

/// <summary>How helpers are called.</summary>
public static class FormulaFunctions
{
    private static readonly Dictionary<string, (FormulaFunction Function, string Usage, int Arguments)> s_all = new(StringComparer.Ordinal)
    {
        ["min"] = (FormulaFunction.Min, "min(a, b)", 2),
        ["max"] = (FormulaFunction.Max, "max(a, b)", 2),
        ["abs"] = (FormulaFunction.Abs, "abs(x)", 1),
        ["clamp"] = (FormulaFunction.Clamp, "clamp(x, lowest, highest)", 3),
        ["bits"] = (FormulaFunction.Bits, "bits(x, from, count)", 3),
        ["byte"] = (FormulaFunction.Byte, "byte(number)", 1),
        ["sum"] = (FormulaFunction.Sum, "sum(first, last)", 2),
        ["xor"] = (FormulaFunction.Xor, "xor(first, last)", 2),
    };

    public static IReadOnlyList<string> Names => [.. s_all.Keys];

    public static (FormulaFunction Function, string Usage, int Arguments)? Find(string name) => s_all.TryGetValue(name, out var found) ? found : null;
}
