using Locum.Diagnostics;
using Locum.Reporting;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Reporting;

public class DiagnosticTextTests
{
    private static readonly Span s_place = new("a/b.yaml", 2, 3, 2, 6);

    [Fact]
    public void Without_excerpts_a_finding_is_one_line_with_its_mend_and_second_place_below()
    {
        var text = Print([new Diagnostic(Codes.FieldOverlap, s_place, "both have bit 3", "move one of them", s_place with { Line = 1 })], "", false);

        Assert.Equal("a/b.yaml:2:3: error LC0602: both have bit 3\n  mend: move one of them\n  see a/b.yaml:1:3\n1 error\n", text);
    }

    [Fact]
    public void An_excerpt_shows_the_line_with_carets_under_the_place()
    {
        var text = Print([new Diagnostic(Codes.UnknownKey, s_place, "no key 'abc'", "did you mean 'abd'?")], "first\n\tbabc: 1\n", true);

        Assert.Equal("a/b.yaml:2:3: error LC0202: no key 'abc'\n    2 |  babc: 1\n      |   ^^^\n  mend: did you mean 'abd'?\n\n1 error\n", text);
    }

    [Fact]
    public void A_finding_about_an_unread_file_has_no_excerpt()
    {
        var text = Print([new Diagnostic(Codes.CannotRead, Span.Start("gone.yaml"), "there is no such file")], "x", true);

        Assert.Equal("gone.yaml:1:1: error LC0101: there is no such file\n\n1 error\n", text);
    }

    [Theory]
    [InlineData(0, 0, 0, "no findings")]
    [InlineData(1, 0, 0, "1 error")]
    [InlineData(2, 1, 0, "2 errors, 1 warning")]
    [InlineData(0, 2, 1, "2 warnings, 1 note")]
    [InlineData(0, 0, 2, "2 notes")]
    public void The_last_line_counts(int errors, int warnings, int notes, string expected)
    {
        var all = Enumerable.Repeat(Codes.FieldOverlap, errors)
            .Concat(Enumerable.Repeat(Codes.UnusedBus, warnings))
            .Concat(Enumerable.Repeat(Codes.OffsetBeyondPeriod, notes))
            .Select(c => new Diagnostic(c, s_place, "text"))
            .ToList();

        Assert.EndsWith("\n" + expected + "\n", "\n" + Print(all, "", false));
    }

    [Fact]
    public void Colours_appear_only_when_asked_for()
    {
        Diagnostic[] all = [new(Codes.UnusedBus, s_place, "text", "mend", s_place)];

        Assert.DoesNotContain('\u001b', Print(all, "x\nyyyyyyy", true));
        Assert.Contains("\u001b[1;33mwarning LC0303:\u001b[0m", Print(all, "x\nyyyyyyy", true, colours: true));
    }

    [Fact]
    public void Terminal_sequences_of_a_file_do_not_reach_the_terminal()
    {
        var evil = "\u001b[31m\u202E\u0007";
        var text = Print([new Diagnostic(Codes.UnknownKey, new Span("a/b.yaml", 1, 1, 1, 4), evil, evil, new Span(evil, 1, 1, 1, 1))], evil, true);

        Assert.DoesNotContain(text, c => c is '\u001b' or '\u202E' or '\u0007');
        Assert.Contains("··", text);
    }

    [Fact]
    public void Long_messages_wrap_on_a_terminal_and_stay_whole_in_a_pipe()
    {
        var message = string.Join(' ', Enumerable.Repeat("word", 60));
        Diagnostic[] all = [new(Codes.UnknownKey, s_place, message, message)];

        Assert.All(Print(all, "", true).Split('\n'), line => Assert.True(line.Length <= 80, line));
        Assert.Equal(message, string.Join(' ', Print(all, "", true).Split("LC0202: ")[1].Split("\n  mend")[0].Split(new[] { ' ', '\n' }, StringSplitOptions.RemoveEmptyEntries)));
        Assert.Contains(message, Print(all, "", false));
    }

    private static string Print(IReadOnlyList<Diagnostic> all, string source, bool excerpts, bool colours = false)
    {
        var writer = new StringWriter();
        var sources = new Dictionary<string, SourceText> { ["a/b.yaml"] = new("a/b.yaml", source) };
        DiagnosticText.Write(writer, all, sources, excerpts, colours);
        return writer.ToString();
    }
}
