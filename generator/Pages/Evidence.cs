using Locum.Syntax;
using Locum.Text;

namespace Locum.Pages;

/// <summary>Comments of a description beside what they speak of; a draft has its evidence there.</summary>
internal sealed class Evidence
{
    private readonly Dictionary<string, Dictionary<int, SourceComment>> _byFile = [];
    private readonly IReadOnlyDictionary<string, SourceText> _sources;

    public Evidence(IReadOnlyDictionary<string, SourceText> sources) => _sources = sources;

    /// <summary>The comments right above a place, and those beside its lines.</summary>
    /// <param name="endLine">The last line that counts.</param>
    public string About(Span span, int endLine)
    {
        var comments = Of(span.File);
        var above = new List<string>();
        for (var line = span.Line - 1; comments.TryGetValue(line, out var comment) && !comment.Beside; line--)
            above.Insert(0, Words(comment));
        var beside = Enumerable.Range(span.Line, Math.Max(0, endLine - span.Line + 1)).Select(l => comments.GetValueOrDefault(l)).OfType<SourceComment>().Select(Words);
        return string.Join(' ', above.Concat(beside));
    }

    /// <summary>The comments right above a place and all within it, these with the key that they stand above or beside.</summary>
    /// <param name="nextLine">The first line that does not count, nor do the comments right above it.</param>
    public string Within(Span span, int nextLine)
    {
        var comments = Of(span.File);
        while (comments.TryGetValue(nextLine - 1, out var before) && !before.Beside)
            nextLine--;
        var parts = new List<string> { About(span with { EndLine = span.Line }, span.Line - 1) };
        var waiting = new List<string>();
        for (var line = span.Line; line < nextLine; line++)
        {
            if (comments.TryGetValue(line, out var comment))
                waiting.Add(Words(comment));
            if (comment is { Beside: false } || waiting.Count is 0)
                continue;
            parts.Add($"{Key(_sources[span.File].Line(line))}{string.Join(' ', waiting)}");
            waiting.Clear();
        }
        return string.Join("; ", parts.Where(p => p.Length > 0));
    }

    /// <summary>Where comments of a file start, by line.</summary>
    public IReadOnlyDictionary<int, SourceComment> Of(string file)
    {
        if (!_byFile.TryGetValue(file, out var comments))
            _byFile[file] = comments = _sources.TryGetValue(file, out var source) ? CommentReader.Read(source).ToDictionary(c => c.Line) : [];
        return comments;
    }

    private static string Key(string line)
    {
        var key = line.Split(':')[0].Trim();
        return key.Length > 0 && key.All(c => char.IsLetterOrDigit(c) || c is ' ' or '-') ? $"{key}: " : "";
    }

    private static string Words(SourceComment comment) => comment.Text.TrimStart('#').Trim();
}
