using Locum.Parts;

namespace Locum.Benching;

/// <summary>What the supply input has to live through.</summary>
internal static class PulseTable
{
    /// <summary>Supplies above, V, belong to other systems.</summary>
    public const decimal MostOf12V = 20;

    public static BenchTable Table { get; } = new(
        "pulses", "Pulses on a 12 V supply", ["pulse", "peak", "source", "lasts", "clamped", "against it"], [.. SupplyPulse.All.Select(Row)],
        [$"Pulses 1 to 3b are those of ISO 7637-2 (2011), the rest is ISO 16750-2 (2012); highest levels, from memory; a maker's own figures come first. 'clamped' is the current into a suppressor that holds {SupplyPulse.ClampV} V: the peak less that, through the source."]);

    public static IReadOnlyList<BenchItem> Items { get; } =
        [new("board", 1, $"suppressor that holds {SupplyPulse.ClampV} V, for the pulses that can come"), new("board", 1, "ceramic capacitor 100 nF, 100 V, at the plug")];

    private static IReadOnlyList<BenchCell> Row(SupplyPulse pulse) =>
    [
        new(pulse.Name), new($"{pulse.PeakV:0.#} V", pulse.PeakV, "V"), pulse.SourceOhm > 0 ? new BenchCell($"{pulse.SourceOhm:0.#} ohm", pulse.SourceOhm, "ohm") : Figures.None,
        new(pulse.Lasts), pulse.ClampA > 0 ? Figures.Ampere((decimal)pulse.ClampA) : Figures.None, new(pulse.Need),
    ];
}
