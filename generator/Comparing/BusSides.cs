using Locum.Capture;
using Locum.Wire;

namespace Locum.Comparing;

/// <summary>The identifiers of one bus in captures with and without the module.</summary>
internal sealed class BusSides
{
    private readonly Dictionary<CanId, SideStats> _with = [];
    private readonly Dictionary<CanId, SideStats> _without = [];

    /// <param name="captures">Those with the module first.</param>
    /// <param name="with">How many of them have it.</param>
    public BusSides(BusLine bus, IReadOnlyList<Recording> captures, int with)
    {
        var there = captures.Select((c, i) => (Capture: c, Bus: bus.Numbers[i], IsWith: i < with)).Where(c => c.Bus is not null)
            .Select(c => (c.Capture, Bus: c.Bus!.Value, c.IsWith, Awake: new AwakeTime(c.Capture, c.Bus!.Value))).ToList();
        IsOneSided = !there.Exists(c => c.IsWith) || there.TrueForAll(c => c.IsWith);
        Ids = [.. there.SelectMany(c => c.Capture.Series.Where(s => s.Bus == c.Bus).Select(s => s.Id)).Distinct().OrderBy(i => i.ArbitrationKey)];
        foreach (var id in Ids)
        {
            var stats = there.Select(c => (c.IsWith, Stats: new SightStats(c.Capture.Find(c.Bus, id), c.Awake))).ToList();
            _with[id] = new SideStats([.. stats.Where(s => s.IsWith).Select(s => s.Stats)]);
            _without[id] = new SideStats([.. stats.Where(s => !s.IsWith).Select(s => s.Stats)]);
        }
    }

    /// <summary>In arbitration order.</summary>
    public IReadOnlyList<CanId> Ids { get; }

    /// <summary>No capture of one kind has the bus.</summary>
    public bool IsOneSided { get; }

    public SideStats With(CanId id) => _with[id];

    public SideStats Without(CanId id) => _without[id];
}
