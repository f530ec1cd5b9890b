using System.Diagnostics;
using System.Text;
using Locum.Syntax;
using Xunit;

namespace Locum.Tests.Unit.BadInput;

/// <summary>Texts made to exhaust a reader: each is answered with findings within seconds.</summary>
public class HostileYamlTests
{
    private const int TenMega = 10 * 1024 * 1024;
    private const int JustSmallEnough = SyntaxReader.MaxBytes - 16;
    private const int Seconds = 30;

    [Theory]
    [InlineData("[")]
    [InlineData("{a: ")]
    [InlineData("x")]
    public void Ten_megabytes_are_refused_by_their_size(string part) =>
        Assert.Equal("LC0106", Answer(Repeat(part, TenMega)));

    [Theory]
    [InlineData("[", "LC0106")]
    [InlineData("[\n", "LC0106")]
    [InlineData("{", "LC0106")]
    [InlineData("{a: ", "LC0106")]
    [InlineData("- ", "LC0106")]
    [InlineData("? ", "LC0106")]
    [InlineData("x", "LC0204")]
    [InlineData("'", "LC0204")]
    [InlineData(": ", "LC0103")]
    [InlineData("a:", "LC0103")]
    [InlineData("&a ", "LC0103")]
    [InlineData("!a ", "LC0103")]
    [InlineData("*a ", "LC0103")]
    [InlineData("\"\\x", "LC0103")]
    [InlineData("# ", "LC0102")]
    [InlineData(" ", "LC0102")]
    [InlineData("\n", "LC0102")]
    [InlineData("\t", "LC0102")]
    [InlineData("%A\n", "LC0102")]
    public void The_same_thing_up_to_the_limit_of_the_size_is_answered(string part, string code) =>
        Assert.Contains(code, Answer(Repeat(part, JustSmallEnough)));

    [Fact]
    public void Indentation_without_end_is_answered() =>
        Assert.Equal("LC0106", Answer(string.Concat(Enumerable.Range(0, 2_800).Select(i => new string(' ', i) + "a:\n"))));

    [Fact]
    public void Aliases_are_never_expanded()
    {
        var text = new StringBuilder("locum: 1\na0: &a0 [lol, lol]\n");
        for (var i = 1; i < 60; i++)
            text.Append($"a{i}: &a{i} [{string.Join(", ", Enumerable.Repeat($"*a{i - 1}", 10))}]\n");

        Assert.Contains("LC0105", Answer(text.ToString()));
    }

    [Theory]
    [InlineData("buses", "{rate: 5 kbit/s}")]
    [InlineData("inputs", "{active: high}")]
    [InlineData("modes", "{for: 1 s, then: nowhere}")]
    [InlineData("counters", "{to: 1}")]
    [InlineData("frames", "{id: 1, length: 8, every: 1 s}")]
    [InlineData("unknown", "x")]
    public void Sections_of_a_hundred_thousand_entries_are_answered(string section, string entry) =>
        Assert.NotEmpty(Answer($"locum: 1\n{section}:\n" + string.Concat(Enumerable.Range(0, 100_000).Select(i => $" n{i}: {entry}\n"))));

    [Theory]
    [InlineData("a{0}: {{bit: 0, bits: 8, checksum: {{rule: sum, over: 1, with: {{secret: 00}}}}}}, ", "frames: {F: {id: 1, length: 8, every: 1 s, fields: {", "}}}")]
    [InlineData("{{i: active, then: b}}, ", "inputs: {i: {active: high}}\nmodes: {a: {until: [", "]}, b: }")]
    [InlineData("a{0}: 1\n", "", "")]
    [InlineData("a: 1\n", "", "")]
    [InlineData("a{0}: {0}, ", "frames: {F: {id: 1, length: 8, every: 1 s, fields: {f: {bit: 0, bits: 8, names: {", "}, value: b}}}}")]
    [InlineData("m{0}: 1, ", "frames: {F: {id: 1, length: 8, every: 1 s, fields: {f: {bit: 0, bits: 8, value: {", "}}}}}")]
    [InlineData("{0}, ", "frames: {F: {id: 1, length: 8, every: 1 s, in: [", "]}}")]
    [InlineData("0..7, ", "frames: {F: {id: 1, length: 8, every: 1 s, fields: {f: {bit: 0, bits: 8, checksum: {rule: sum, over: [", "]}}}}}")]
    public void Long_lists_anywhere_are_answered(string part, string before, string after)
    {
        var many = string.Concat(Enumerable.Range(0, 40_000).Select(i => string.Format(part, i)));

        Assert.NotEmpty(Answer($"locum: 1\nmodule: m\nhazard: none\nbuses: {{b: {{rate: 500 kbit/s}}}}\n{before}{many}{after}\n"));
    }

    [Fact]
    public void Names_of_a_megabyte_do_not_fill_the_findings() =>
        Assert.NotEmpty(Answer($"? {new string('x', 1_000_000)}\n: 1\n? {new string('x', 1_000_000)}\n: 2\n"));

    private static string Answer(string text)
    {
        var watch = Stopwatch.StartNew();
        var found = Findings.OfText(text);
        Assert.InRange(watch.Elapsed.TotalSeconds, 0, Seconds);
        return string.Join(' ', found.Select(d => d.Code.Id).Distinct());
    }

    private static string Repeat(string part, int length) => new StringBuilder().Insert(0, part, length / part.Length).ToString();
}
