using Locum.Capture;
using Locum.Inference;
using Locum.Wire;

namespace Locum.Comparing;

/// <summary>Captures with a module against captures without it.</summary>
public sealed record Comparison
{
    /// <summary>A chance above this is no difference: 1 in 20.</summary>
    private const double NoDifferenceLog10 = -1.3;

    public required IReadOnlyList<NamedCapture> With { get; init; }

    public required IReadOnlyList<NamedCapture> Without { get; init; }

    /// <summary>Buses, by the captures with the module, then by those without.</summary>
    public required IReadOnlyList<BusLine> Buses { get; init; }

    /// <summary>Most important first.</summary>
    public required IReadOnlyList<Difference> Differences { get; init; }

    /// <summary>Only on one side, but too rare to tell.</summary>
    public required IReadOnlyList<Difference> TooRare { get; init; }

    public required IReadOnlyList<SenderGroup> Groups { get; init; }

    public required IReadOnlyList<SourceAddress> Addresses { get; init; }

    /// <summary>Identifiers that were compared.</summary>
    public required int Compared { get; init; }

    /// <summary>Buses that only captures of one kind have, so nothing on them can be compared.</summary>
    public required IReadOnlyList<string> OneSided { get; init; }

    /// <param name="with">At least one.</param>
    /// <param name="without">At least one.</param>
    public static Comparison Of(IReadOnlyList<NamedCapture> with, IReadOnlyList<NamedCapture> without)
    {
        var captures = with.Concat(without).Select(c => c.Recording).ToList();
        var buses = BusLine.Of(captures);
        var step = captures.Max(StampStep.Of);
        var (differences, rare, oneSided, compared) = (new List<Difference>(), new List<Difference>(), new List<string>(), 0);
        var (groups, addresses) = (new List<SenderGroup>(), new List<SourceAddress>());
        foreach (var bus in buses)
        {
            var sides = new BusSides(bus, captures, with.Count);
            if (sides.IsOneSided)
            {
                oneSided.Add(bus.Name);
                continue;
            }
            compared += sides.Ids.Count;
            var found = sides.Ids.SelectMany(id => Differ(bus, id, sides, step)).ToList();
            rare.AddRange(found.Where(IsRare));
            found.RemoveAll(IsRare);
            var missing = found.Where(d => d.Kind is DifferenceKind.Missing).ToList();
            var own = SenderFinder.Find(bus.Name, [.. missing.Select(d => (d.Id, sides.With(d.Id)))], step, (char)('A' + groups.Count));
            groups.AddRange(own);
            addresses.AddRange(Addresses29(bus, sides, missing));
            differences.AddRange(found.Select(d => d.Kind is not DifferenceKind.Missing ? d : d with { Group = own.Where(g => g.Ids.Contains(d.Id)).Select(g => (char?)g.Letter).FirstOrDefault() }));
        }
        return new Comparison
        {
            With = with,
            Without = without,
            Buses = buses,
            Differences = [.. differences.OrderBy(d => d.Kind).ThenByDescending(d => d.Confidence).ThenBy(d => d.Group ?? char.MaxValue).ThenByDescending(d => d.Expected).ThenBy(d => d.Id.ArbitrationKey)],
            TooRare = [.. rare.OrderByDescending(d => d.Expected)],
            Groups = groups,
            Addresses = addresses,
            Compared = compared,
            OneSided = oneSided,
        };
    }

    private static bool IsRare(Difference difference) =>
        difference.Kind is DifferenceKind.Missing or DifferenceKind.Appeared && difference.Evidence.Log10Chance > NoDifferenceLog10;

    private static IEnumerable<Difference> Differ(BusLine bus, CanId id, BusSides sides, long step)
    {
        var (with, without) = (sides.With(id), sides.Without(id));
        if (with.Count > 0 && without.Count > 0)
            return new ChangeFinder(step, sides.Ids.Count).Find(with, without).Select(c => Make(c.Kind, with, c.Evidence) with { What = c.What });
        var (there, gone) = with.Count > 0 ? (with, without) : (without, with);
        var unseen = there.Unseen(gone);
        var chance = ZeroCount.Log10Chance(there.Signs, Math.Max(1, there.LivingUs), unseen) + Math.Log10(sides.Ids.Count);
        var evidence = new Evidence(there.Captures.Count, there.Present, there.Present, Math.Min(0, chance));
        return [Make(with.Count > 0 ? DifferenceKind.Missing : DifferenceKind.Appeared, there, evidence) with { Expected = there.Expected(unseen) }];

        Difference Make(DifferenceKind kind, SideStats shown, Evidence evidence) => new()
        {
            Kind = kind,
            Bus = bus.Name,
            Id = id,
            With = with.Count,
            Without = without.Count,
            Present = shown.Present,
            Of = shown.Captures.Count,
            PeriodUs = shown.PeriodUs,
            Evidence = evidence,
        };
    }

    private static IEnumerable<SourceAddress> Addresses29(BusLine bus, BusSides sides, List<Difference> missing) =>
        missing.Where(d => d.Id.Extended).GroupBy(d => (byte)d.Id.Value).Select(g =>
        {
            var own = sides.Ids.Where(i => i.Extended && (byte)i.Value == g.Key).ToList();
            return new SourceAddress(bus.Name, g.Key, [.. g.Select(d => d.Id)], own.Count(i => sides.With(i).Count > 0), own.Count(i => sides.Without(i).Count > 0));
        }).OrderByDescending(a => a.IsGone).ThenByDescending(a => a.Missing.Count);
}
