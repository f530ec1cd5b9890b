using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using Locum.Diagnostics;
using Locum.Reporting;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Reporting;

/// <summary>
/// The log is held against shared/vectors/sarif-subset.schema.json: the parts of the OASIS SARIF 2.1.0 schema that
/// this program uses (required properties, enumerations, minimums, no other properties), written from memory of the standard.
/// </summary>
public class DiagnosticSarifTests
{
    private static readonly JsonSchema s_schema = JsonSchema.FromText(File.ReadAllText(RepoRoot.Path("shared", "vectors", "sarif-subset.schema.json")));

    private static readonly Diagnostic[] s_findings =
    [
        new(Codes.FieldOverlap, new Span("projects/a b/tür.yaml", 2, 3, 2, 6), "both have bit 3", "move one of them", new Span("/abs/x.yaml", 1, 2, 1, 4)),
        new(Codes.UnusedBus, new Span("x.yaml", 1, 1, 3, 1), "no frame", "did you mean 'y'?"),
        new(Codes.OffsetBeyondPeriod, Span.Start("x.yaml"), "late"),
        new(Codes.FieldOverlap, new Span("x.yaml", 9, 9, 9, 9), "again"),
    ];

    [Fact]
    public void A_log_with_findings_of_every_severity_fits_the_schema() => AssertValid(Write(s_findings));

    [Fact]
    public void An_empty_log_fits_the_schema() => AssertValid(Write([]));

    [Fact]
    public void A_finding_of_every_code_fits_the_schema() =>
        AssertValid(Write([.. Codes.All.Select(c => new Diagnostic(c, Span.Start("x.yaml"), c.Title))]));

    [Theory]
    [InlineData("$.version", "\"2.0.0\"")]
    [InlineData("$.runs", "{}")]
    [InlineData("$.runs[0].tool", "{}")]
    [InlineData("$.runs[0].tool.driver.name", null)]
    [InlineData("$.runs[0].tool.driver.rules[0].id", null)]
    [InlineData("$.runs[0].tool.driver.rules[0].defaultConfiguration.level", "\"fatal\"")]
    [InlineData("$.runs[0].columnKind", "\"bytes\"")]
    [InlineData("$.runs[0].results[0].message", null)]
    [InlineData("$.runs[0].results[0].message.text", "7")]
    [InlineData("$.runs[0].results[0].level", "\"info\"")]
    [InlineData("$.runs[0].results[0].ruleIndex", "-2")]
    [InlineData("$.runs[0].results[0].locations[0].physicalLocation.region.startLine", "0")]
    [InlineData("$.runs[0].results[0].locations[0].physicalLocation.region.startColumn", "0")]
    [InlineData("$.runs[0].results[0].locations[0].physicalLocation.artifactLocation.uri", "\"a b.yaml\"")]
    [InlineData("$.runs[0].results[0].mend", "\"not a property\"")]
    public void The_schema_refuses_a_broken_log(string place, string? value)
    {
        var log = JsonNode.Parse(Write(s_findings))!;
        var cut = place.LastIndexOf('.');
        var parent = Follow(log, place[2..Math.Max(2, cut)]);
        parent.AsObject().Remove(place[(cut + 1)..]);
        if (value is not null)
            parent[place[(cut + 1)..]] = JsonNode.Parse(value);

        Assert.False(IsValid(log.ToJsonString()));
    }

    [Fact]
    public void Results_name_their_rule_place_and_mend()
    {
        var run = JsonNode.Parse(Write(s_findings))!["runs"]![0]!;
        var rules = run["tool"]!["driver"]!["rules"]!.AsArray();
        var results = run["results"]!.AsArray();

        Assert.Equal(["LC0303", "LC0506", "LC0602"], rules.Select(r => (string)r!["id"]!));
        Assert.Equal("FieldsOverlap", (string)rules[2]!["name"]!);
        Assert.Equal(["error", "warning", "note", "error"], results.Select(r => (string)r!["level"]!));
        Assert.All(results, r => Assert.Equal((string)r!["ruleId"]!, (string)rules[(int)r["ruleIndex"]!]!["id"]!));
        Assert.Equal("both have bit 3. Mend: move one of them.", (string)results[0]!["message"]!["text"]!);
        Assert.Equal("no frame. Mend: did you mean 'y'?", (string)results[1]!["message"]!["text"]!);
        Assert.Equal("file:///abs/x.yaml", (string)results[0]!["relatedLocations"]![0]!["physicalLocation"]!["artifactLocation"]!["uri"]!);
    }

    // Percent-encoding of UTF-8 after RFC 3986, section 2.5; the file scheme after RFC 8089.
    [Theory]
    [InlineData("projects/a b/tür.yaml", "projects/a%20b/t%C3%BCr.yaml")]
    [InlineData("../x#1?.yaml", "../x%231%3F.yaml")]
    [InlineData("a:b.yaml", "a%3Ab.yaml")]
    [InlineData("/home/x y.yaml", "file:///home/x%20y.yaml")]
    public void Paths_become_uri_references(string path, string uri) => Assert.Equal(uri, SarifText.Uri(path));

    private static void AssertValid(string log) => Assert.True(IsValid(log), log);

    private static bool IsValid(string log)
    {
        using var document = JsonDocument.Parse(log);
        return s_schema.Evaluate(document.RootElement).IsValid;
    }

    private static JsonNode Follow(JsonNode node, string path)
    {
        foreach (var step in path.Split(['.', '[', ']'], StringSplitOptions.RemoveEmptyEntries))
            node = int.TryParse(step, out var index) ? node[index]! : node[step]!;
        return node;
    }

    private static string Write(IReadOnlyList<Diagnostic> all)
    {
        using var stream = new MemoryStream();
        DiagnosticSarif.Write(stream, all, "0.1.0");
        return System.Text.Encoding.UTF8.GetString(stream.ToArray());
    }
}
