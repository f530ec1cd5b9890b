using Locum.Model;
using Locum.Wire;

namespace Locum.Reviewing;

/// <summary>A stimulus as an item: what happens at which time.</summary>
internal static class StimulusFacts
{
    /// <param name="named">The name of a part ("bus", "input") in the newer revision.</param>
    public static IEnumerable<Change> Compare(Stimulus before, Stimulus after, Func<string, string, string> named)
    {
        var old = before with
        {
            Inputs = [.. before.Inputs.Select(i => i with { Input = named("input", i.Input) })],
            Traffic = [.. before.Traffic.Select(t => t with { Bus = named("bus", t.Bus) })],
            Blocked = [.. before.Blocked.Select(b => b with { Bus = named("bus", b.Bus) })],
            BusOffs = [.. before.BusOffs.Select(b => b with { Bus = named("bus", b.Bus) })],
        };
        // A bus or an input that only one of them mentions: what happens there is told, not that the bus came.
        var inputs = Inputs(old).Union(Inputs(after)).ToList();
        var buses = Buses(old).Union(Buses(after)).ToList();
        return Comparer.Compare(
            [Of(old, inputs, buses) with { Name = after.Name, WasNamed = old.Name == after.Name ? null : old.Name }],
            [Of(after, inputs, buses)], []);
    }

    private static IEnumerable<string> Inputs(Stimulus stimulus) => stimulus.Inputs.Select(i => i.Input);

    private static IEnumerable<string> Buses(Stimulus stimulus) =>
        stimulus.Traffic.Select(t => t.Bus).Concat(stimulus.Blocked.Select(b => b.Bus)).Concat(stimulus.BusOffs.Select(b => b.Bus));

    private static Item Of(Stimulus stimulus, IReadOnlyList<string> inputs, IReadOnlyList<string> buses) => new()
    {
        Kind = "stimulus",
        Name = stimulus.Name,
        Identity = "",
        Facts =
        [
            new("for", Say.Time(stimulus.EndUs)),
            new("clock", $"0x{stimulus.Clock:X8}"),
            .. Counted(stimulus.Stalls.Select(s => new Fact($"stall from {Say.Time(s.FromUs)}", $"until {Say.Time(s.UntilUs)}"))),
            .. stimulus.Resets.Select(r => new Fact($"reset at {Say.Time(r.AtUs)}", Cause(r.Cause))),
        ],
        Children =
        [
            .. inputs.Select(i => Input(i, stimulus.Inputs.Where(c => c.Input == i))),
            .. buses.Select(b => Bus(b, stimulus)),
        ],
    };

    private static Item Input(string name, IEnumerable<InputChange> changes) => new()
    {
        Kind = "input",
        Name = name,
        Identity = "",
        Facts = [.. Counted(changes.Select(c => new Fact($"at {Say.Time(c.AtUs)}", c.Active ? "active" : "inactive")))],
    };

    private static Item Bus(string name, Stimulus stimulus) => new()
    {
        Kind = "bus",
        Name = name,
        Identity = "",
        Facts =
        [
            .. Counted(stimulus.Blocked.Where(b => b.Bus == name).Select(b => new Fact($"blocked from {Say.Time(b.FromUs)}", $"until {Say.Time(b.UntilUs)}"))),
            .. stimulus.BusOffs.Where(b => b.Bus == name).Select(b => new Fact($"bus-off at {Say.Time(b.AtUs)}", "yes") { Usual = "no" }),
        ],
        Children = [.. stimulus.Traffic.Where(t => t.Bus == name).GroupBy(t => t.Id).Select(g => Frame(g.Key, [.. g], stimulus.EndUs))],
    };

    private static Item Frame(CanId id, IReadOnlyList<Traffic> traffic, long endUs) => new()
    {
        Kind = "frame",
        Name = $"{id}",
        Identity = "",
        Hint = traffic.All(IsOnce) ? "once" : $"every {Say.Time(traffic.First(t => !IsOnce(t)).PeriodUs)}",
        Facts = [.. Counted(traffic.OrderBy(t => t.FirstUs).Select(t => IsOnce(t)
            ? new Fact($"at {Say.Time(t.FirstUs)}", Payload(t))
            : new Fact($"from {Say.Time(t.FirstUs)}", $"{Payload(t)}, every {Say.Time(t.PeriodUs)}{(t.UntilUs < endUs ? $", until {Say.Time(t.UntilUs)}" : "")}")))],
    };

    private static string Payload(Traffic traffic) =>
        (traffic.Data.Length is 0 ? "no data" : Say.Bytes(traffic.Data)) + (traffic.Format is FrameFormat.Classic ? "" : $", {FormatWords.Of(traffic.Format)}");

    private static bool IsOnce(Traffic traffic) => traffic.FirstUs + traffic.PeriodUs >= traffic.UntilUs;

    private static string Cause(ResetCause cause) => cause switch
    {
        ResetCause.Power => "power",
        ResetCause.Watchdog => "watchdog",
        ResetCause.BrownOut => "brown-out",
        _ => throw new ArgumentOutOfRangeException(nameof(cause)),
    };

    // Several things at one time are told apart by their number.
    private static IEnumerable<Fact> Counted(IEnumerable<Fact> facts)
    {
        var seen = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var fact in facts)
        {
            var number = seen[fact.Label] = seen.GetValueOrDefault(fact.Label) + 1;
            yield return number is 1 ? fact : fact with { Label = $"{fact.Label} ({number})" };
        }
    }
}
