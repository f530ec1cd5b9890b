namespace Locum.Text;

/// <summary>A text with its path, split into lines once for excerpts.</summary>
public sealed class SourceText(string path, string text)
{
    private string[]? _lines;

    public string Path { get; } = path;

    public string Text { get; } = text;

    /// <summary>The line without its ending; empty when <paramref name="line"/> lies outside the text.</summary>
    /// <param name="line">1-based.</param>
    public string Line(int line)
    {
        _lines ??= Text.ReplaceLineEndings("\n").Split('\n');
        return line >= 1 && line <= _lines.Length ? _lines[line - 1] : "";
    }
}
