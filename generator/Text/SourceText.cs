namespace Locum.Text;

/// <summary>A text with its path, split into lines once for excerpts.</summary>
public sealed class SourceText(string path, string text)
{
    // The line breaks of YAML 1.1, which the parser counts: LF, CR, NEL, LS, PS, and CR LF as one. A form feed is none.
    private static readonly char[] s_breaks = ['\n', '\r', '\u0085', '\u2028', '\u2029'];

    private string[]? _lines;

    public string Path { get; } = path;

    public string Text { get; } = text;

    public int LineCount => Lines.Length;

    private string[] Lines => _lines ??= Text.Replace("\r\n", "\n", StringComparison.Ordinal).Split(s_breaks);

    /// <summary>The line without its ending; empty when <paramref name="line"/> lies outside the text.</summary>
    /// <param name="line">1-based.</param>
    public string Line(int line) => line >= 1 && line <= Lines.Length ? Lines[line - 1] : "";
}
