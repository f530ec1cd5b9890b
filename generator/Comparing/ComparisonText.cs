using System.Globalization;
using Locum.Capture;
using Locum.Diagnostics;
using Locum.Inference;
using Locum.Reporting;
using Locum.Wire;

namespace Locum.Comparing;

/// <summary>A comparison for people: tables of at most 80 columns, most important first.</summary>
public static class ComparisonText
{
    private const int Columns = 80;
    private const int MostRare = 12;

    /// <summary>Writes the comparison. Line ends are "\n"; nothing from a file reaches a terminal unfiltered.</summary>
    public static void Write(TextWriter writer, Comparison comparison)
    {
        Head(writer, "with", comparison.With);
        Head(writer, "without", comparison.Without);
        foreach (var bus in comparison.Buses)
            Wrap(writer, $"bus {bus.Name}: {How(bus, comparison)}", 0);
        foreach (var bus in comparison.OneSided)
            Wrap(writer, $"bus {bus} is only in captures of one kind: nothing on it is compared", 0);
        var several = comparison.Buses.Count > 1;
        Only(writer, comparison, DifferenceKind.Missing, "sent only with the module", several);
        foreach (var address in comparison.Addresses)
            Wrap(writer, Words29(address), 2);
        foreach (var group in comparison.Groups)
            Wrap(writer, $"{group.Letter}: probably one sender ({Word(group.Evidence.Confidence)}): {string.Join(", ", group.Ids)}; {group.Why}", 2);
        Only(writer, comparison, DifferenceKind.Appeared, "sent only without the module", several);
        Changed(writer, comparison, several);
        Line(writer, "");
        Line(writer, comparison.Differences.Count is 0 ? $"nothing differs in {Words.Count(comparison.Compared, "identifier")}" : $"{Words.Count(comparison.Differences.Count, "difference")} in {Words.Count(comparison.Compared, "identifier")}");
        if (comparison.TooRare.Count > 0)
            Wrap(writer, $"on one side only, but too rare to tell: {string.Join(", ", comparison.TooRare.Take(MostRare).Select(d => $"{d.Id}{(several ? $" on {d.Bus}" : "")} ({(d.Kind is DifferenceKind.Missing ? d.With : d.Without)} seen, {Number(d.Expected)} expected)"))}{(comparison.TooRare.Count > MostRare ? $" and {comparison.TooRare.Count - MostRare} more" : "")}", 0);
        if (comparison.Differences.Count + comparison.TooRare.Count > 0)
            Wrap(writer, "expected: frames at the same rate in the other captures, while the bus is awake and behind a start-up. Sure by the chance that none came (Poisson), bunches counted once, over all identifiers tried; never by what else differed between the captures.", 0);
    }

    private static void Head(TextWriter writer, string what, IReadOnlyList<NamedCapture> captures) =>
        Wrap(writer, $"{what}: {string.Join(", ", captures.Select(c => $"{c.Path} ({Words.Time(c.Recording.DurationUs)})"))}", 0);

    private static string How(BusLine bus, Comparison comparison)
    {
        var names = comparison.With.Concat(comparison.Without).Select((c, i) => bus.Numbers[i] is { } n ? (Name: c.Recording.Buses[n], How: bus.How[i]) : ((string Name, BusPairing How)?)null).ToList();
        var here = names.OfType<(string Name, BusPairing How)>().ToList();
        var missing = names.Count - here.Count;
        var by = here.Exists(h => h.How is BusPairing.OnlyOne) ? "taken for one as each capture has only one"
            : here.Exists(h => h.How is BusPairing.Identifiers) ? $"recognised by its identifiers as {string.Join(", ", here.Select(h => $"'{h.Name}'").Distinct())}" : "by its name";
        return $"{by}{(missing > 0 ? $", not in {Words.Count(missing, "capture")}" : "")}";
    }

    private static void Only(TextWriter writer, Comparison comparison, DifferenceKind kind, string title, bool several)
    {
        var rows = comparison.Differences.Where(d => d.Kind == kind).ToList();
        if (rows.Count is 0)
            return;
        Line(writer, "");
        Line(writer, $"{title}:");
        var grouped = rows.Exists(r => r.Group is not null);
        var extended = rows.Exists(r => r.Id.Extended);
        Row(writer, several, "bus", "id", "frames", "captures", "period", "expected", "sure", grouped ? "grp" : "", extended ? "priority group source" : "");
        foreach (var row in rows)
            Row(writer, several, row.Bus, row.Id.ToString(), $"{(kind is DifferenceKind.Missing ? row.With : row.Without)}", $"{row.Present} of {row.Of}", row.PeriodUs is { } p ? Words.Time(p) : "-", Number(row.Expected), Word(row.Confidence), row.Group?.ToString() ?? "", Parts(row.Id));
    }

    private static void Row(TextWriter writer, bool several, string bus, string id, string frames, string captures, string period, string expected, string sure, string group, string parts)
    {
        var name = several ? Cut(Printable.Clean(bus), 8).PadRight(9) : "";
        Line(writer, $"  {name}{id,-10} {frames,7} {captures,8} {period,8} {expected,8} {sure,-8} {group,-3} {parts}".TrimEnd());
    }

    private static void Changed(TextWriter writer, Comparison comparison, bool several)
    {
        var rows = comparison.Differences.Where(d => d.Kind is not (DifferenceKind.Missing or DifferenceKind.Appeared)).ToList();
        if (rows.Count is 0)
            return;
        Line(writer, "");
        Line(writer, "changed:");
        foreach (var row in rows)
        {
            var head = $"  {(several ? Cut(Printable.Clean(row.Bus), 8).PadRight(9) : "")}{row.Id,-10} {Word(row.Confidence),-8} ";
            var lines = SoftWrap.Lines(row.What, Columns, head.Length, head.Length);
            Line(writer, head + lines[0]);
            foreach (var line in lines.Skip(1))
                Line(writer, line);
        }
    }

    private static string Words29(SourceAddress address) => address.IsGone
        ? $"source address 0x{address.Address:X2}{(address.All > 1 ? $": all {address.All} of its identifiers are gone, as if" : ": its only identifier is gone, as if")} the node were the module"
        : $"source address 0x{address.Address:X2}: {address.Missing.Count} of {address.All} identifiers are gone, {address.After} are still sent";

    private static string Parts(CanId id)
    {
        if (!id.Extended)
            return "";
        var (priority, group, address) = SourceAddress.Parts(id.Value);
        return $"{priority,8} {group:X5} 0x{address:X2}";
    }

    private static string Word(Confidence confidence) => confidence.ToString().ToLowerInvariant();

    private static string Number(double value) => value.ToString(value < 10 ? "0.#" : "0", CultureInfo.InvariantCulture);

    private static string Cut(string text, int width) => text.Length <= width ? text : string.Concat(text.AsSpan(0, width - 1), "~");

    private static void Wrap(TextWriter writer, string text, int indent)
    {
        var lines = SoftWrap.Lines(Printable.Clean(text), Columns, indent, indent + 2);
        for (var i = 0; i < lines.Count; i++)
            Line(writer, i is 0 ? new string(' ', indent) + lines[i] : lines[i]);
    }

    private static void Line(TextWriter writer, string text)
    {
        writer.Write(text);
        writer.Write('\n');
    }
}
