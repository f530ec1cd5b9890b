using Locum.Diagnostics;
using Locum.Formatting;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Formatting;

/// <summary>The canonical form by example.</summary>
public sealed class FormatterTests
{
    private const string Messy = """
        # what this is

        hazard: none # nobody can be hurt
        module: 'm'
        locum: "1"


        frames:
            # the first
            F: {length: 8, id: 0x0a8, every: 20ms, base: 00 ff 1a 00 00 00 00 00, fields: {b: {bits: 4, bit: 12, value: 0xf}}}
            # nothing follows
        buses: {b: {'sample point': 87.5%, rate: 500   kbit/s}}
        summary: a text that says more than a line can hold, so that it has to go on below its key, word by word
        """;

    private const string Neat = """
        locum: 1
        # what this is

        module: m
        summary: >-
          a text that says more than a line can hold, so that it has to go on below its key, word by word
        hazard: none  # nobody can be hurt
        buses:
          b: {rate: 500 kbit/s, sample point: 87.5 %}

        frames:
          # the first
          F:
            id: 0x0A8
            length: 8
            every: 20 ms
            base: 00 FF 1A 00 00 00 00 00
            fields:
              b: {bit: 12, bits: 4, value: 0xf}
          # nothing follows

        """;

    [Fact]
    public void Keys_move_into_order_with_their_comments() =>
        Assert.Equal(Neat.Replace("locum: 1\n# what this is\n\nmodule: m\n", "locum: 1\nmodule: m\n", StringComparison.Ordinal)
            .Replace("hazard: none", "# what this is\n\nhazard: none", StringComparison.Ordinal), Formatted.Of(Messy));

    [Theory]
    [InlineData("a: {x: 1, y: [1,2]}", "a: {x: 1, y: [1, 2]}")]
    [InlineData("a:\n    x: 1", "a:\n  x: 1")]
    [InlineData("a: {x: 1, # one\n  y: 2} # two", "a:  # two\n  x: 1  # one\n  y: 2")]
    [InlineData("a:\n- 1\n-   2", "a:\n  - 1\n  - 2")]
    [InlineData("a:\n- x: 1\n  y: 2\n-\n  - 3", "a:\n  - x: 1\n    y: 2\n  - - 3")]
    [InlineData("a:\n  -\n    # first\n    x: 1", "a:\n  # first\n  - x: 1")]
    [InlineData("a: 'it''s'\nb: \"x: y\"\nc: ''\nd:", "a: it's\nb: \"x: y\"\nc: \"\"\nd:")]
    [InlineData("a: \"12\"\nb: 'yes'\nc: '-'", "a: \"12\"\nb: yes\nc: \"-\"")]
    [InlineData("a: |\n   one\n    two\nb: 1", "a: \"one\\n two\\n\"\nb: 1")]
    [InlineData("a: |\n   one\n   two\nb: 1", "a: |\n  one\n  two\nb: 1")]
    [InlineData("a: >-\n  one\n  two", "a: one two")]
    [InlineData("? a\n: 1", "a: 1")]
    [InlineData("--- # begin\na: 1\n\n\n\nb: 2\n...", "# begin\na: 1\n\nb: 2")]
    [InlineData("{a: 1, b: {c: 2}}", "a: 1\nb: {c: 2}")]
    [InlineData("a:\n  # inside\n  1 # beside", "# inside\na: 1  # beside")]
    [InlineData("a: 1\n  # deep\nb: 2\n# end", "a: 1\n# deep\nb: 2\n# end")]
    [InlineData("a:\n  b: 1\n  # of a\n# of c\nc: 2", "a:\n  b: 1\n  # of a\n# of c\nc: 2")]
    public void Unknown_keys_keep_their_order_and_take_the_form(string before, string after) => Assert.Equal(after + "\n", Formatted.Of(before));

    [Theory]
    [InlineData("for: 20ms", "for: 20 ms")]
    [InlineData("for: 250 µs", "for: 250 us")]
    [InlineData("for: twenty", "for: twenty")]
    [InlineData("clock: 0XffFF", "clock: 0xFFFF")]
    [InlineData("clock: '7'", "clock: 7")]
    [InlineData("clock: 0xno", "clock: 0xno")]
    [InlineData("stimulus: 0xff", "stimulus: 0xff")]
    public void Numbers_and_quantities_have_one_spelling_where_they_are_meant(string before, string after)
    {
        var rest = before.StartsWith("stimulus", StringComparison.Ordinal) ? "" : "stimulus: s\n";
        Assert.Equal($"locum: 1\n{rest}{after}\n", Formatted.Of($"locum: 1\n{rest}{before}\n"));
    }

    [Fact]
    public void Long_rows_of_bytes_go_on_below()
    {
        var row = string.Join(' ', Enumerable.Range(0xA0, 40).Select(b => b.ToString("x2")));
        var text = Formatted.Of($"locum: 1\nstimulus: s\nfor: 1 s\ntraffic: {{b: [{{id: 1, every: 1 ms, data: {row}}}]}}");
        Assert.EndsWith("      data: >-\n        A0 A1 A2 A3 A4 A5 A6 A7 A8 A9 AA AB AC AD AE AF\n        B0 B1 B2 B3 B4 B5 B6 B7 B8 B9 BA BB BC BD BE BF\n        C0 C1 C2 C3 C4 C5 C6 C7\n",
            text, StringComparison.Ordinal);
    }

    [Fact]
    public void Line_ends_stay_as_the_file_has_them() => Assert.Equal("a: 1\r\nb: 2\r\n", Formatted.Of("a:   1\r\nb: 2\r\n"));

    [Theory]
    [InlineData("a: [", "LC0103")]
    [InlineData("a: 1\na: 2", "LC0104")]
    [InlineData("a: &x 1", "LC0105")]
    [InlineData("- 1", "LC0204")]
    [InlineData("# nothing", "LC0102")]
    public void What_is_not_usable_is_left_alone(string text, string code)
    {
        var bag = new DiagnosticBag();
        Assert.Null(Formatter.Format(new SourceText("test.yaml", text), bag));
        Assert.Equal(code, Assert.Single(bag.Sorted).Code.Id);
    }
}
