using Locum.Diagnostics;

namespace Locum.Reporting;

/// <summary>Text inside Markdown (CommonMark with tables).</summary>
internal static class MarkdownText
{
    /// <summary>Nothing from a description becomes markup.</summary>
    public static string Cell(string text) => string.Concat(Printable.Clean(text).Select(c => "\\`*_{}[]<>#|~&".Contains(c, StringComparison.Ordinal) ? $"\\{c}" : c.ToString()));
}
