using Locum.Capture;

namespace Locum.Comparing;

/// <summary>One bus in all captures.</summary>
/// <param name="Name">As the first capture that has it calls it.</param>
/// <param name="Numbers">Its number in each capture, in the order of the captures; null where a capture does not have it.</param>
/// <param name="How">How it was recognised in each capture.</param>
public sealed record BusLine(string Name, IReadOnlyList<int?> Numbers, IReadOnlyList<BusPairing> How)
{
    /// <summary>The buses of all captures, those of one name or of the same identifiers joined.</summary>
    public static IReadOnlyList<BusLine> Of(IReadOnlyList<Recording> captures)
    {
        var lines = new List<(string Name, HashSet<Wire.CanId> Ids, int?[] Numbers, BusPairing[] How)>();
        for (var c = 0; c < captures.Count; c++)
        {
            var buses = BusMatching.Of(captures[c]);
            var pairs = BusMatching.Match([.. lines.Select(l => new BusIds(l.Name, l.Ids))], buses);
            for (var i = 0; i < pairs.Count; i++)
            {
                lines[i].Numbers[c] = pairs[i].Bus;
                lines[i].How[c] = pairs[i].How;
                if (pairs[i].Bus is { } bus)
                    lines[i].Ids.UnionWith(buses[bus].Ids);
            }
            for (var bus = 0; bus < buses.Count; bus++)
            {
                if (pairs.Any(p => p.Bus == bus) || buses[bus].Ids.Count is 0)
                    continue;
                var line = (buses[bus].Name, buses[bus].Ids.ToHashSet(), new int?[captures.Count], new BusPairing[captures.Count]);
                line.Item3[c] = bus;
                line.Item4[c] = BusPairing.Name;
                lines.Add(line);
            }
        }
        return [.. lines.Select(l => new BusLine(l.Name, l.Numbers, l.How))];
    }
}
