using System.Net;
using Locum.Diagnostics;

namespace Locum.Rendering;

/// <summary>HTML that a template of this program made, or a built-in file: put into a page as it stands.</summary>
public sealed record Html(string Text)
{
    /// <summary>Any other text: shown, never markup, without control and direction characters.</summary>
    public static string Escape(string text) => WebUtility.HtmlEncode(Printable.Clean(text));

    public override string ToString() => Text;
}
