using System.Text.Json;
using Locum.Tests.Unit.Cli;
using Xunit;

namespace Locum.Tests.Unit.Schema;

/// <summary>The schema that editors are pointed to.</summary>
public sealed class SchemaFileTests
{
    [Fact]
    public void The_committed_file_is_what_the_program_prints()
    {
        var (code, output, error) = CommandLine.Run("schema");
        Assert.Equal((0, ""), (code, error));
        Assert.True(output == File.ReadAllText(RepoRoot.Path("shared", "schema", "locum.schema.json")),
            "shared/schema/locum.schema.json is out of date; refresh it: locum schema > shared/schema/locum.schema.json");
    }

    [Fact]
    public void Every_reference_leads_somewhere_and_every_definition_is_used()
    {
        var text = CommandLine.Run("schema").Output;
        using var document = JsonDocument.Parse(text);
        Assert.Equal("https://json-schema.org/draft/2020-12/schema", document.RootElement.GetProperty("$schema").GetString());
        var defined = document.RootElement.GetProperty("$defs").EnumerateObject().Select(d => d.Name).ToList();
        var used = text.Split('"').Where(t => t.StartsWith("#/$defs/", StringComparison.Ordinal)).Select(t => t["#/$defs/".Length..]).Distinct().ToList();
        Assert.Equal(defined.Order(), used.Order());
    }

    [Theory]
    [InlineData("locum: 1\nproject: p\nboards: {b: {board: pc, modules: [m.yaml], colour: red}}", "/boards/b/colour")]
    [InlineData("locum: 1\nstimulus: s\nfor: 1 s\nclock: -1", "/clock")]
    [InlineData("locum: 1\nmodule: m\nhazard: none\nbuses: {b: {rate: 500}}\nframes: {F: {id: 1, length: 8, every: 20 ms}}", "/buses/b/rate")]
    [InlineData("locum: 1\nmodule: m\nhazard: none\nbuses: {b: {rate: 500 kbit/s}}\nframes: {F: {id: 1, length: 65, every: 20 ms}}", "/frames/F/length")]
    [InlineData("locum: 1\nmodule: m\nhazard: none\nbuses: {b: {rate: 500 kbit/s}}\nframes: {F: {id: 1, length: 8, every: 20 ms, base: 0 1}}", "/frames/F/base")]
    public void Each_kind_of_file_is_held_against_its_own_keys(string text, string place) =>
        Assert.Contains(place, EditorView.Objections(EditorView.ParseText(text)));
}
