namespace Locum.Parts;

/// <summary>One resistor or two that make a resistance inside a window.</summary>
/// <param name="FirstOhm">ohm.</param>
/// <param name="SecondOhm">ohm; null: one is enough.</param>
/// <param name="Parallel">The two are in parallel, otherwise in series.</param>
public sealed record ResistorPick(decimal FirstOhm, decimal? SecondOhm, bool Parallel)
{
    private const decimal Span = 100;

    /// <summary>What they make, ohm.</summary>
    public decimal Ohm => (FirstOhm, SecondOhm, Parallel) switch
    {
        (_, null, _) => FirstOhm,
        (var a, { } b, true) => a * b / (a + b),
        (var a, { } b, false) => a + b,
    };

    /// <summary>The share of the whole power that the first takes.</summary>
    public decimal FirstShare => SecondOhm is null ? 1 : Parallel ? Ohm / FirstOhm : FirstOhm / Ohm;

    /// <summary>The single value nearest to the middle that stays in the window with its tolerance, else such a pair; null when there is neither.</summary>
    /// <param name="low">Lower end, ohm, above 0.</param>
    /// <param name="high">Upper end, ohm, not below it.</param>
    /// <param name="tolerancePercent">Of every part, below 100 %.</param>
    public static ResistorPick? Of(decimal low, decimal high, decimal tolerancePercent, int series)
    {
        var share = tolerancePercent / 100;
        var (from, to) = (low / (1 - share), high / (1 + share));
        if (from > to)
            return null;
        var middle = (from + to) / 2;
        var single = ESeries.Between(series, from, to).Select(v => new ResistorPick(v, null, false)).MinBy(Distance);
        return single ?? Pairs(middle, series).Where(p => p.Ohm >= from && p.Ohm <= to).OrderBy(Distance).ThenBy(p => Math.Abs(p.FirstShare - 0.5m)).FirstOrDefault();

        decimal Distance(ResistorPick pick) => Math.Abs(pick.Ohm - middle);
    }

    // For every first value the two second ones around what is missing.
    private static IEnumerable<ResistorPick> Pairs(decimal middle, int series)
    {
        foreach (var first in ESeries.Between(series, middle / 2, middle * (1 - (1 / Span))))
            foreach (var second in Around(series, middle - first))
                yield return new ResistorPick(first, second, false);
        foreach (var first in ESeries.Between(series, middle * (1 + (1 / Span)), middle * 2))
            foreach (var second in Around(series, 1 / ((1 / middle) - (1 / first))))
                yield return new ResistorPick(first, second, true);
    }

    private static IEnumerable<decimal> Around(int series, decimal value) =>
        [ESeries.AtLeast(series, value), ESeries.Between(series, value / 2, value).Last()];
}
