using Locum.Model;
using Locum.Reviewing;

namespace Locum.Pages;

/// <summary>
/// Modes below each other in the order in which they are reached; every way out leaves its mode at the right on a line of
/// its own, and comes back to the head of the next one on a track of its own. Places in pixels.
/// </summary>
internal sealed record ModeDiagram(int Width, int Height, IReadOnlyList<ModeBox> Boxes, IReadOnlyList<ModeWay> Ways)
{
    private const int BoxWidth = 196;
    private const int Head = 46;
    private const int Row = 26;
    private const int Gap = 22;
    private const int LeastLabel = 90;
    private const int Letter = 7;
    private const int Track = 16;
    private const int Longest = 44;
    private const int Bend = 6;

    public static ModeDiagram Of(Module module)
    {
        var scope = new Scope(module, new Dictionary<(string, string, string), string>());
        var exits = module.Modes.ToDictionary(m => m.Index, m => Exits(m, scope).ToList());
        var boxes = new Dictionary<int, ModeBox>();
        var y = 2;
        foreach (var mode in Reached(module, exits))
        {
            var height = Head + (exits[mode.Index].Count * Row);
            boxes[mode.Index] = new ModeBox(mode.Name, Says(module, mode), mode.Index is 0, mode.Sleep, y, height);
            y += height + Gap;
        }
        var ways = Routes(module, exits, boxes).ToList();
        return new ModeDiagram(ways.Count is 0 ? BoxWidth + 4 : ways.Max(w => w.TrackX) + 12, y - Gap + 4, [.. boxes.Values], ways);
    }

    // Breadth first, so that what follows soon stands near; modes that are never reached come last.
    private static List<Mode> Reached(Module module, Dictionary<int, List<(string When, int Then, bool Timed)>> exits)
    {
        var order = new List<int> { 0 };
        for (var i = 0; i < order.Count; i++)
            order.AddRange(exits[order[i]].Select(e => e.Then).Distinct().Except(order).ToList());
        return [.. order.Concat(module.Modes.Select(m => m.Index).Except(order)).Select(i => module.Modes[i])];
    }

    private static IEnumerable<(string When, int Then, bool Timed)> Exits(Mode mode, Scope scope)
    {
        foreach (var exit in mode.Exits)
            yield return (string.Join(" and ", exit.When.Select(c => ModuleFacts.Condition(c, scope))), exit.Then, false);
        if (mode is { ForUs: { } time, Then: { } then })
            yield return ($"after {Say.Time(time)}", then, true);
    }

    private static IEnumerable<ModeWay> Routes(Module module, Dictionary<int, List<(string When, int Then, bool Timed)>> exits, Dictionary<int, ModeBox> boxes)
    {
        var lines = exits.SelectMany(e => e.Value.Select((x, i) => (From: e.Key, Y: boxes[e.Key].Y + Head + (i * Row) + (Row / 2), ToY: boxes[x.Then].Y + (Head / 2), Exit: x))).ToList();
        var labels = lines.Select(l => Cut(l.Exit.When).Length * Letter).DefaultIfEmpty(0).Max();
        var taken = new List<List<(int Top, int Bottom)>>();
        foreach (var line in lines.OrderBy(l => Math.Abs(l.Y - l.ToY)).ThenBy(l => l.Y))
        {
            var (top, bottom) = (Math.Min(line.Y, line.ToY), Math.Max(line.Y, line.ToY));
            var track = taken.FindIndex(t => t.TrueForAll(s => bottom < s.Top - Bend || top > s.Bottom + Bend));
            if (track < 0)
            {
                track = taken.Count;
                taken.Add([]);
            }
            taken[track].Add((top, bottom));
            var x = BoxWidth + Math.Max(LeastLabel, labels) + (2 * Track) + (track * Track);
            var down = line.ToY > line.Y ? Bend : -Bend;
            yield return new ModeWay(
                module.Modes[line.From].Name, module.Modes[line.Exit.Then].Name, line.Exit.When, Cut(line.Exit.When), line.Exit.Timed, line.Y, line.ToY, x,
                $"M{BoxWidth} {line.Y}H{x - Bend}q{Bend} 0 {Bend} {down}V{line.ToY - down}q0 {down} {-Bend} {down}H{BoxWidth + 9}");
        }
    }

    private static string Says(Module module, Mode mode)
    {
        var frames = module.Frames.Count(f => f.IsDescribed && f.Modes.Contains(mode.Index));
        return mode.Sleep ? "sleeps" : frames is 0 ? "sends nothing" : frames is 1 ? "sends 1 frame" : $"sends {frames} frames";
    }

    private static string Cut(string text) => text.Length <= Longest ? text : $"{text[..(Longest - 1)]}…";
}

/// <summary>A mode of the diagram.</summary>
/// <param name="First">It is entered at power-on.</param>
internal sealed record ModeBox(string Name, string Says, bool First, bool Sleep, int Y, int Height)
{
    public int NameY => Y + 19;

    public int SaysY => Y + 35;
}

/// <summary>A way from one mode to another.</summary>
/// <param name="Label">As much of the condition as there is room for.</param>
/// <param name="Timed">By the mode's own time, not by a condition.</param>
internal sealed record ModeWay(string From, string To, string When, string Label, bool Timed, int Y, int ToY, int TrackX, string Path)
{
    public int LabelY => Y - 5;
}
