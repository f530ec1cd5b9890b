using Scriban;
using Scriban.Parsing;

namespace Locum.Rendering;

/// <summary>Runs templates of HTML: every text that an expression gives is escaped, only <see cref="Html"/> is not.</summary>
internal sealed class HtmlContext : TemplateContext
{
    public override TemplateContext Write(SourceSpan span, object? textAsObject) => textAsObject switch
    {
        null => this,
        Html html => Write(html.Text),
        _ => Write(Html.Escape(ObjectToString(textAsObject) ?? "")),
    };
}
