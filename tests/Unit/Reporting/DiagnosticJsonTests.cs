using System.Text;
using System.Text.Json;
using Locum.Diagnostics;
using Locum.Reporting;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Reporting;

public class DiagnosticJsonTests
{
    [Fact]
    public void A_finding_becomes_an_object_with_plain_keys()
    {
        Diagnostic[] all = [new(Codes.FieldOverlap, new Span("a.yaml", 2, 3, 2, 6), "both", "move", new Span("b.yaml", 1, 2, 1, 4))];

        using var json = JsonDocument.Parse(Write(all));
        var one = json.RootElement[0];

        Assert.Equal(["code", "severity", "title", "message", "mend", "file", "line", "column", "endLine", "endColumn", "other"], one.EnumerateObject().Select(p => p.Name));
        Assert.Equal("LC0602", one.GetProperty("code").GetString());
        Assert.Equal("error", one.GetProperty("severity").GetString());
        Assert.Equal("fields overlap", one.GetProperty("title").GetString());
        Assert.Equal([2, 3, 2, 6], new[] { "line", "column", "endLine", "endColumn" }.Select(k => one.GetProperty(k).GetInt32()));
        Assert.Equal("b.yaml", one.GetProperty("other").GetProperty("file").GetString());
    }

    [Fact]
    public void Keys_without_content_are_absent()
    {
        using var json = JsonDocument.Parse(Write([new(Codes.UnusedBus, Span.Start("a"), "text")]));

        Assert.False(json.RootElement[0].TryGetProperty("mend", out _));
        Assert.False(json.RootElement[0].TryGetProperty("other", out _));
    }

    [Fact]
    public void Nothing_found_is_an_empty_array() => Assert.Equal("[]\n", Write([]));

    [Fact]
    public void Output_is_plain_ascii_with_line_feeds_and_survives_half_surrogates()
    {
        var text = Write([new(Codes.UnknownKey, Span.Start("türe.yaml"), "\ud800 \u001b[31m \u202E \"quoted\"")]);

        Assert.All(text, c => Assert.True(c is '\n' or (>= ' ' and <= '~')));
        using var json = JsonDocument.Parse(text);
        Assert.Equal("\uFFFD \u001b[31m \u202E \"quoted\"", json.RootElement[0].GetProperty("message").GetString());
    }

    private static string Write(IReadOnlyList<Diagnostic> all)
    {
        using var stream = new MemoryStream();
        DiagnosticJson.Write(stream, all);
        return Encoding.UTF8.GetString(stream.ToArray());
    }
}
