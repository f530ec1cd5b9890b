using Locum.Rendering;
using Xunit;

namespace Locum.Tests.Architecture;

/// <summary>Templates are run strictly: what does not exist is an error, and nothing is cut or localised.</summary>
public sealed class TemplateTests
{
    private static readonly object s_view = new { Known = 1, Words = new[] { "a" }, Big = new string('x', 2_000_000), Half = 0.5 };

    [Theory]
    [InlineData("{{ unknown }}")]
    [InlineData("{{ known.part }}")]
    [InlineData("{{ words[3] }}")]
    [InlineData("{{ unknown_function 1 }}")]
    [InlineData("{{ if }}")]
    public void Mistakes_are_errors(string template) =>
        Assert.Throws<InvalidOperationException>(() => TemplateFactory.RenderText(template, "test", s_view));

    [Fact]
    public void Text_is_rendered_whole_with_plain_line_ends_and_points()
    {
        Assert.Equal(2_000_000, TemplateFactory.RenderText("{{ big }}", "test", s_view).Length);
        Assert.Equal("0.5\n1", TemplateFactory.RenderText("{{ half }}\n{{ known }}", "test", s_view));
    }
}
