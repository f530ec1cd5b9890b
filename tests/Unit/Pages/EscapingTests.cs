using Locum.Rendering;
using Xunit;

namespace Locum.Tests.Unit.Pages;

public sealed class EscapingTests
{
    [Fact]
    public void Text_is_escaped_wherever_a_template_shows_it()
    {
        var view = new { Text = "<b>\"'&\u202e\u0000", List = new[] { "<i>" }, Html = new Html("<u>") };
        Assert.Equal("&lt;b&gt;&quot;&#39;&amp;&#183;&#183;", TemplateFactory.RenderHtmlText("{{ text }}", "test", view));
        Assert.Equal("<p title=\"&lt;b&gt;&quot;&#39;&amp;&#183;&#183;\">", TemplateFactory.RenderHtmlText("<p title=\"{{ text }}\">", "test", view));
        Assert.Equal("&lt;i&gt;&lt;b&gt;&quot;&#39;&amp;&#183;&#183;", TemplateFactory.RenderHtmlText("{{ for one in list }}{{ one + text }}{{ end }}", "test", view));
        Assert.Equal("<u>", TemplateFactory.RenderHtmlText("{{ html }}", "test", view));
    }

    [Fact]
    public void Other_templates_are_not_escaped() =>
        Assert.Equal("<b>", TemplateFactory.RenderText("{{ text }}", "test", new { Text = "<b>" }));

    [Theory]
    [InlineData("{{ unknown }}")]
    [InlineData("{{ text.part }}")]
    public void Mistakes_are_errors(string template) =>
        Assert.Throws<InvalidOperationException>(() => TemplateFactory.RenderHtmlText(template, "test", new { Text = "" }));
}
