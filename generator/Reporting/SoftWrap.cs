namespace Locum.Reporting;

/// <summary>Breaks long lines of prose between words.</summary>
internal static class SoftWrap
{
    /// <summary>Lines of at most <paramref name="columns"/>; a single longer word keeps a line of its own.</summary>
    /// <param name="first">Columns that are taken already in the first line.</param>
    /// <param name="indent">Spaces before every further line.</param>
    public static IReadOnlyList<string> Lines(string text, int columns, int first, int indent)
    {
        var lines = new List<string>();
        var line = "";
        var used = first;
        foreach (var word in text.Split(' '))
        {
            var width = DisplayWidth.Of(word);
            if (line.Length > 0 && used + 1 + width > columns)
            {
                lines.Add(line);
                line = new string(' ', indent) + word;
                used = indent + width;
                continue;
            }
            used += line.Length > 0 ? 1 + width : width;
            line = line.Length > 0 ? $"{line} {word}" : word;
        }
        lines.Add(line);
        return lines;
    }
}
