using Locum.Model;
using Locum.Parts;

namespace Locum.Benching;

/// <summary>What a load asks of switch, fuse and wire.</summary>
/// <param name="MostA">The highest lasting current, at the highest supply, A.</param>
/// <param name="InrushA">The original's first current at the highest supply, A.</param>
/// <param name="WireFuseA">The largest fuse that the wire may have, A; null: none, or no wire is described.</param>
/// <param name="DropV">Drop of the wire there and back at the highest nominal current, V; null: no wire is described.</param>
internal sealed record WireLine(BenchLoad Load, decimal MostA, decimal InrushA, decimal? FuseA, decimal? WireFuseA, decimal? DropV)
{
    public static WireLine Of(BenchLoad load, BenchSetup bench)
    {
        var nominal = load.Stages.Max(s => s.CurrentA);
        var most = nominal * bench.Supply.ToV / bench.Supply.NominalV;
        return new WireLine(
            load, most, (decimal)DummyStage.Original(load, bench.Supply).PeakA, Fuse.For(most),
            load.Wire is { } wire ? CopperWire.LargestFuse(wire.SectionMm2) : null,
            load.Wire is { } w ? 2 * w.LengthM * CopperWire.OhmPerM(w.SectionMm2, bench.AmbientC) * nominal : null);
    }
}
