using Locum.Diagnostics;
using Xunit;

namespace Locum.Tests.Unit.Diagnostics;

public class PrintableTests
{
    [Theory]
    [InlineData("plain text, ünïcode 扉 🚪", "plain text, ünïcode 扉 🚪")]
    [InlineData("\u001b[31mred", "·[31mred")]
    [InlineData("a\tb\nc\0d\u007f\u0085", "a·b·c·d··")]
    [InlineData("\u202Eevil\u202C \u2066x\u2069 \u200B\uFEFF", "·evil· ·x· ··")]
    [InlineData("line\u2028and\u2029paragraph", "line·and·paragraph")]
    public void Characters_that_act_on_a_terminal_become_dots(string text, string clean) =>
        Assert.Equal(clean, Printable.Clean(text));

    // Not in the table above: attribute arguments are stored as UTF-8, which has no half pairs.
    [Fact]
    public void Half_a_surrogate_pair_becomes_a_dot() => Assert.Equal("half · pair", Printable.Clean("half \ud800 pair"));

    [Fact]
    public void Short_texts_stay_whole_and_long_ones_are_cut_between_characters()
    {
        Assert.Equal(new string('a', 40), Printable.Short(new string('a', 40)));
        Assert.Equal(new string('a', 39) + "…", Printable.Short(new string('a', 41)));
        Assert.Equal(new string('a', 38) + "…", Printable.Short(new string('a', 38) + "🚪🚪"));
    }
}
