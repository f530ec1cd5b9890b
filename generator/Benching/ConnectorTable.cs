using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Benching;

/// <summary>The plug, pin by pin.</summary>
internal static class ConnectorTable
{
    private static readonly string[] s_columns = ["pin", "signal", "wire", "colour", "leads to"];

    public static BenchSection Of(BenchConnector? connector)
    {
        if (connector is null)
            return BenchSection.None;
        var type = Printable.Clean(connector.Type);
        return new BenchSection(
            new BenchTable("connector", type.Length > 0 ? $"Connector: {type}" : "Connector", s_columns, [.. connector.Pins.Select(Row)], []),
            [new("plug", 1, type.Length > 0 ? $"connector {type}" : "connector")],
            []);
    }

    private static IReadOnlyList<BenchCell> Row(BenchPin pin) =>
    [
        Figures.Text(Printable.Clean(pin.Name)), Figures.Text(Printable.Clean(pin.Signal)),
        pin.SectionMm2 is { } mm2 ? new BenchCell($"{Figures.Plain(mm2)} mm2", (double)mm2, "mm2") : Figures.None,
        Figures.Text(Printable.Clean(pin.Colour)), Figures.Text(Printable.Clean(pin.Part ?? "")),
    ];
}
