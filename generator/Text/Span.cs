namespace Locum.Text;

/// <summary>A place in a source text. Lines and columns start at 1; the end is exclusive.</summary>
/// <param name="File">Path as the user gave it; empty for built-in texts.</param>
/// <param name="Line">First line.</param>
/// <param name="Column">First column, in UTF-16 units.</param>
/// <param name="EndLine">Line of the first character behind the place.</param>
/// <param name="EndColumn">Column of the first character behind the place.</param>
public readonly record struct Span(string File, int Line, int Column, int EndLine, int EndColumn)
{
    /// <summary>The first character of a file, for findings about the file as a whole.</summary>
    public static Span Start(string file) => new(file, 1, 1, 1, 1);

    /// <summary>The first character only, for findings about something large.</summary>
    public Span First() => this with { EndLine = Line, EndColumn = Column + 1 };

    public override string ToString() => $"{File}:{Line}:{Column}";
}
