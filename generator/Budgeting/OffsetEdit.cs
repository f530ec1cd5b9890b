using Locum.Diagnostics;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Budgeting;

/// <summary>Writes offsets into the text of a description: only that scalar changes, all else stays byte for byte.</summary>
public static class OffsetEdit
{
    /// <summary>The new text; null when a frame or its period is not where it should be.</summary>
    /// <param name="source">The description.</param>
    /// <param name="offsetsUs">New offsets by the frame's name, µs.</param>
    public static string? Apply(SourceText source, IReadOnlyDictionary<string, long> offsetsUs)
    {
        if (SyntaxReader.Read(source, new DiagnosticBag()) is not MappingNode root || Value(root, "frames") is not MappingNode frames)
            return null;
        var edits = new List<(int At, int Length, string Text)>();
        foreach (var (name, offset) in offsetsUs)
        {
            if (Value(frames, name) is not MappingNode frame || Edit(source, frame, Words(offset)) is not { } edit)
                return null;
            edits.Add(edit);
        }
        var text = source.Text;
        foreach (var (at, length, words) in edits.OrderByDescending(e => e.At))
            text = $"{text[..at]}{words}{text[(at + length)..]}";
        return text;
    }

    /// <summary>An offset as descriptions write it.</summary>
    public static string Words(long us) => us % 1000 is 0 ? $"{us / 1000} ms" : $"{us / 1000.0:0.###} ms";

    private static (int At, int Length, string Text)? Edit(SourceText source, MappingNode frame, string words)
    {
        if (Value(frame, "offset") is ScalarNode present)
            return (Index(source, present.Span.Line, present.Span.Column), Length(source, present.Span), words);
        var every = frame.Entries.FirstOrDefault(e => e.Key.Value is "every");
        if (every?.Value is not ScalarNode period)
            return null;
        var end = Index(source, period.Span.EndLine, period.Span.EndColumn);
        // Beside the next key in braces, otherwise in a line of its own at the same depth, behind a comment.
        if (IsFlow(source, frame))
            return (end, 0, $", offset: {words}");
        var lineEnd = source.Text.AsSpan(end).IndexOfAny('\r', '\n');
        return (lineEnd < 0 ? source.Text.Length : end + lineEnd, 0, $"{LineBreak(source)}{new string(' ', every.Key.Span.Column - 1)}offset: {words}");
    }

    private static SyntaxNode? Value(MappingNode mapping, string key) => mapping.Entries.FirstOrDefault(e => e.Key.Value == key)?.Value;

    private static bool IsFlow(SourceText source, MappingNode frame) => source.Text[Index(source, frame.Span.Line, frame.Span.Column)] is '{';

    private static string LineBreak(SourceText source) => source.Text.Contains("\r\n", StringComparison.Ordinal) ? "\r\n" : "\n";

    private static int Length(SourceText source, Span span) => Index(source, span.EndLine, span.EndColumn) - Index(source, span.Line, span.Column);

    // Lines as SourceText counts them: CR LF is one break.
    private static int Index(SourceText source, int line, int column)
    {
        var at = 0;
        for (var l = 1; l < line; l++)
        {
            at += source.Line(l).Length;
            at += source.Text.AsSpan(at).StartsWith("\r\n", StringComparison.Ordinal) ? 2 : 1;
        }
        return at + column - 1;
    }
}
