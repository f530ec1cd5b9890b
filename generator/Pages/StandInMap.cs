namespace Locum.Pages;

/// <summary>Modules, the boards that stand in for them, and the buses, as boxes in three columns. Places in pixels.</summary>
internal sealed record StandInMap(int Width, int Height, IReadOnlyList<MapBox> Boxes, IReadOnlyList<string> Lines, string Description)
{
    private const int Row = 46;
    private const int Box = 38;
    private const int Top = 26;
    private const int Column = 340;
    private const int BoxWidth = 240;
    private const int Lead = 24;

    public static StandInMap Of(ReportSubject subject)
    {
        var boxes = new List<MapBox>();
        var lines = new List<string>();
        var rows = subject.Plans.Sum(p => Math.Max(1, p.Modules.Count));
        var buses = subject.Plans.SelectMany(p => p.Buses).DistinctBy(b => b.Name).Select((b, i) => (b.Name, Rate: $"{b.Rate / 1000.0:0.###} kbit/s", Index: i)).ToList();
        var height = Top + (Row * Math.Max(rows, buses.Count));
        // Buses spread over the height of what they join.
        var distance = (double)(height - Top) / Math.Max(1, buses.Count);
        int BusY(int index) => Top + (int)(distance * (index + 0.5)) - (Row / 2);
        foreach (var bus in buses)
            boxes.Add(new MapBox("bus", 2 * Column, BusY(bus.Index), BoxWidth, Box, bus.Name, bus.Rate));
        var row = 0;
        foreach (var plan in subject.Plans)
        {
            var first = Top + (row * Row);
            var boardHeight = (Math.Max(1, plan.Modules.Count) * Row) - (Row - Box);
            boxes.Add(new MapBox("board", Column, first, BoxWidth, boardHeight, plan.Name, plan.Kind.Name));
            foreach (var module in plan.Modules)
            {
                var y = Top + (row++ * Row);
                boxes.Add(new MapBox("module", 0, y, BoxWidth, Box, module.Module.Name, ""));
                lines.Add(Line(BoxWidth, y + (Box / 2), Column));
            }
            if (plan.Modules.Count is 0)
                row++;
            foreach (var bus in plan.Buses)
                lines.Add(Curve(Column + BoxWidth, first + (boardHeight / 2), 2 * Column, BusY(buses.First(b => b.Name == bus.Name).Index) + (Box / 2)));
        }
        return new StandInMap((2 * Column) + BoxWidth, height, boxes, lines,
            string.Join("; ", subject.Plans.Select(p => $"board {p.Name} stands in for {string.Join(" and ", p.Modules.Select(m => m.Module.Name))} on {string.Join(" and ", p.Buses.Select(b => b.Name))}")));
    }

    private static string Line(int x, int y, int to) => $"M{x} {y}H{to}";

    private static string Curve(int x, int y, int toX, int toY) => $"M{x} {y}C{x + (2 * Lead)} {y} {toX - (2 * Lead)} {toY} {toX} {toY}";
}

/// <summary>A box of the map.</summary>
/// <param name="Kind">module, board or bus.</param>
/// <param name="Detail">What stands at its right side; may be empty.</param>
internal sealed record MapBox(string Kind, int X, int Y, int Width, int Height, string Name, string Detail)
{
    public int TextY => Y + (Height / 2) + (Detail.Length > 0 ? -2 : 5);

    public int DetailY => TextY + 14;
}
