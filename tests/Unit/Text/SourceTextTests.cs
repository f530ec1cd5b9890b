using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Text;

public class SourceTextTests
{
    // Line breaks after YAML 1.1, section 4.2: CR LF, CR, LF, NEL, LS, PS. A form feed is not one of them.
    [Theory]
    [InlineData("a\nb\nc", 2, "b")]
    [InlineData("a\r\nb\r\nc", 2, "b")]
    [InlineData("a\rb", 2, "b")]
    [InlineData("a\u0085b\u2028c\u2029d", 4, "d")]
    [InlineData("a\fb\nc", 1, "a\fb")]
    [InlineData("a\n", 2, "")]
    [InlineData("a", 0, "")]
    [InlineData("a", 2, "")]
    [InlineData("a", -1, "")]
    [InlineData("", 1, "")]
    public void Lines_count_from_one_and_have_no_ending(string text, int line, string expected) =>
        Assert.Equal(expected, new SourceText("f", text).Line(line));
}
