using Locum.Diagnostics;

namespace Locum.Budgeting;

/// <summary>Words that all outputs of budgets share.</summary>
internal static class BudgetWords
{
    public static IReadOnlyList<string> Headings { get; } = ["frame", "id", "every ms", "wire us", "within ms", "deadline", ""];

    /// <summary>A row under the headings.</summary>
    public static IReadOnlyList<string> Row(Response response) =>
    [
        Name(response.Stream),
        response.Stream.Id.ToString(),
        $"{Ms(response.Stream.PeriodUs)}{Mark(response.Stream.Basis)}",
        response.Stream.WireUs.ToString(),
        response.WorstUs is { } worst ? $"{worst / 1000.0:0.000}" : "no bound",
        Ms(response.Stream.DeadlineUs),
        response.Meets ? "ok" : "LATE",
    ];

    public static string Name(BusArrivals stream) => stream.Name.Length > 0 ? Printable.Clean(stream.Name) : "other node";

    public static string Title(BusBudget bus) =>
        $"bus {Printable.Clean(bus.Name)}, {bus.Rate / 1000.0:0.###} kbit/s{(bus.DataRate is { } fast ? $" and {fast / 1000.0:0.###} kbit/s" : "")}";

    public static string Load(BusBudget bus) =>
        $"load {bus.MeanLoad * 100:0.0} % with composed payloads, {bus.WorstLoad * 100:0.0} % at worst; of these boards {bus.OwnMeanLoad * 100:0.0} % and {bus.OwnWorstLoad * 100:0.0} %";

    /// <summary>What the figures rest on, each in a sentence.</summary>
    public static IEnumerable<string> Notes(IReadOnlyList<BusBudget> buses)
    {
        var all = buses.SelectMany(b => b.Responses).ToList();
        yield return "'within' is the longest time from a release to the end of the frame (Davis, Burns, Bril, Lukkien 2007; mailboxes that frames of lower priority hold included). A frame has to be there before its next release.";
        if (buses.Any(b => !b.KnowsOthers))
            yield return "What other nodes send is not known without a capture: the figures hold for these boards alone.";
        if (all.Any(r => r.Stream.Basis is StreamBasis.Assumed))
            yield return "* Nothing in the description says how near events come ('gap'); the distance is assumed.";
        if (all.Any(r => r.Stream.Basis is StreamBasis.Seen))
            yield return "Frames of other nodes are taken to come as in the capture: mean distance, and as much sooner as was seen at most.";
        if (all.Any(r => r.InversionOf()))
            yield return "Some frames wait for a mailbox that frames of lower priority of the same board hold.";
    }

    public static string Offsets(OffsetGroup group) =>
        $"{Printable.Clean(group.Board)}, bus {Printable.Clean(group.Bus)}: {group.Planned.Count} frames start together. Wire time at once {Change(group.Before.PeakUs, group.After.PeakUs)}, longest wait {Change(group.Before.WorstUs, group.After.WorstUs)}; the longest frame alone takes {Ms(group.LeastUs)} ms.";

    public static string Ms(long us) => $"{us / 1000.0:0.###}";

    private static bool InversionOf(this Response response) => response.InversionUs > 0;

    private static string Change(long before, long after) => before == after ? $"{Ms(before)} ms (no better one found)" : $"{Ms(before)} -> {Ms(after)} ms";

    private static string Mark(StreamBasis basis) => basis is StreamBasis.Assumed ? "*" : "";
}
