using Locum.Model;
using Locum.Parts;

namespace Locum.Benching;

/// <summary>The resistor that draws the current of one stage.</summary>
/// <param name="PowerW">At the highest supply, tolerance included, W.</param>
/// <param name="RatingW">W; null: no usual one carries it.</param>
internal sealed record DummyStage(decimal Ohm, decimal PowerW, decimal? RatingW)
{
    public const int Series = 24;
    public const decimal TolerancePercent = 5;

    /// <summary>Longer stages count as lasting, µs.</summary>
    private const long ShortUs = 5_000_000;

    // Wire-wound parts, from memory.
    private const decimal FullToC = 70;
    private const decimal ZeroAtC = 275;

    public static DummyStage Of(BenchLoad load, int stage, BenchSupply supply, decimal ambientC)
    {
        var ohm = ESeries.Nearest(Series, supply.NominalV / load.Stages[stage].CurrentA);
        var power = supply.ToV * supply.ToV / (ohm * (1 - (TolerancePercent / 100)));
        var factor = Derating.Factor(ambientC, FullToC, ZeroAtC);
        var rating = Lasts(load, stage) is { } us && load.EveryUs is { } every
            ? Derating.Rating(power * us / every, power * Derating.PulseShare(us), factor) : Derating.Rating(power, 0, factor);
        return new DummyStage(ohm, power, rating);
    }

    /// <summary>The original's current from switching on, at the highest supply.</summary>
    public static Inrush Original(BenchLoad load, BenchSupply supply) =>
        new((double)(load.Stages[0].CurrentA * supply.ToV / supply.NominalV), (double)load.InrushTimes, load.SettlesUs / 1e6);

    // How long a short stage lasts; null when it may last or nothing says so.
    private static long? Lasts(BenchLoad load, int stage)
    {
        var next = stage + 1 < load.Stages.Count ? load.Stages[stage + 1].AtUs : load.ForUs;
        return next - load.Stages[stage].AtUs is { } us and <= ShortUs ? us : null;
    }
}
