using Locum.Capture;
using Locum.Diagnostics;
using Locum.Pipeline;
using Locum.Reporting;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Golden;

/// <summary>
/// Captures, most of them dirty, beside what the program says of them. A layout for NAME stands in NAME.layout.yaml. To
/// accept new output run the tests with LOCUM_ACCEPT=1, as for wrong descriptions.
/// </summary>
public class CaptureTests
{
    private const string Expected = ".expected.txt";
    private const string Layout = ".layout.yaml";

    public static TheoryData<string> Cases => [.. Names()];

    [Theory]
    [MemberData(nameof(Cases))]
    public void A_capture_gives_exactly_the_expected_report(string name)
    {
        var actual = Print(name);
        var expected = Corpus.Folder("captures") + "/" + name + Expected;
        if (Environment.GetEnvironmentVariable("LOCUM_ACCEPT") is "1")
        {
            File.WriteAllText(expected, actual);
            Assert.Fail($"accepted {Path.GetFileName(expected)}; run again without LOCUM_ACCEPT");
        }

        Assert.True(File.Exists(expected), $"{expected} is missing; accept it with LOCUM_ACCEPT=1");
        Assert.Equal(File.ReadAllText(expected), actual);
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Every_line_or_packet_is_an_entry_or_counted_as_left_out(string name)
    {
        if (Read(name, new IdentifierCounts(), new DiagnosticBag()) is { } summary)
            Assert.Equal(summary.Items, summary.Entries + summary.LeftOut);
    }

    [Fact]
    public void Every_kind_of_oddity_occurs_somewhere()
    {
        var words = Names().SelectMany(n => Read(n, new IdentifierCounts(), new DiagnosticBag())?.Oddities ?? []).Select(o => o.Kind).ToHashSet();

        // No file on a disk breaks off; the unit tests have a stream that does.
        words.Add(OddityKind.ReadBrokeOff);
        Assert.Equal(Enum.GetValues<OddityKind>(), words.Order());
    }

    [Fact]
    public void Every_expected_file_belongs_to_a_case() => Assert.Equal(
        Names().Select(n => n + Expected).Order(),
        Directory.EnumerateFiles(Corpus.Folder("captures"), "*" + Expected).Select(f => Path.GetFileName(f)).Order());

    /// <summary>What the reports of all captures say, for counting codes.</summary>
    internal static string AllExpected() => string.Concat(Directory.EnumerateFiles(Corpus.Folder("captures"), "*" + Expected).Select(File.ReadAllText));

    private static IEnumerable<string> Names()
    {
        var names = Directory.EnumerateFiles(Corpus.Folder("captures")).Select(f => Path.GetFileName(f))
            .Where(n => !n.EndsWith(Expected, StringComparison.Ordinal) && !n.EndsWith(Layout, StringComparison.Ordinal))
            .Order(StringComparer.Ordinal).ToList();
        return names.Count > 0 ? names : throw new InvalidOperationException("no captures");
    }

    private static string Print(string name)
    {
        var writer = new StringWriter { NewLine = "\n" };
        var bag = new DiagnosticBag();
        var counts = new IdentifierCounts();
        var summary = Read(name, counts, bag);
        DiagnosticText.Write(writer, [.. bag.Sorted.Select(Relative)], new Dictionary<string, SourceText>(), excerpts: false, colours: false);
        if (summary is not null)
            CaptureReportText.Write(writer, [new CaptureReport(summary with { Path = name }, counts.All)]);
        return writer.ToString();
    }

    private static CaptureSummary? Read(string name, IFrameSink sink, DiagnosticBag bag)
    {
        var path = Path.Combine(Corpus.Folder("captures"), name);
        var layout = File.Exists(path + Layout) ? Loader.LoadLayout(path + Layout, bag, new Dictionary<string, SourceText>()) : null;
        return CaptureReader.Read(path, sink, bag, new CaptureOptions { Layout = layout });
    }

    private static Diagnostic Relative(Diagnostic d) => d with { Span = Relative(d.Span), Other = d.Other is { } other ? Relative(other) : null };

    private static Span Relative(Span span) => span with { File = Path.GetFileName(span.File) };
}
