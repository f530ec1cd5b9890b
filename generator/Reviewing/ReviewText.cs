using Locum.Diagnostics;
using Locum.Reporting;

namespace Locum.Reviewing;

/// <summary>A review for people at a terminal: at most 80 columns, indented from the outside in.</summary>
public static class ReviewText
{
    private const int Columns = 80;

    /// <summary>Writes the review; nothing when nothing differs. Line ends are "\n".</summary>
    public static void Write(TextWriter writer, Review review)
    {
        IReadOnlyList<string> open = [];
        foreach (var change in review.Changes)
        {
            var leaf = change.Label.Length is 0;
            var outer = leaf ? change.Path.SkipLast(1).ToList() : change.Path;
            var shared = open.Zip(outer).TakeWhile(p => p.First == p.Second).Count();
            for (var depth = shared; depth < outer.Count; depth++)
                Line(writer, depth, outer[depth]);
            Line(writer, outer.Count, (change.Hazard ? "! " : "") + ChangeWords.Of(change));
            // What stands below a renamed thing goes on under its line.
            open = leaf && change.Kind is ChangeKind.Renamed ? change.Path : outer;
        }
        foreach (var effect in review.Effects)
            Line(writer, 0, $"{effect.What}: {effect.Before} → {effect.After}");
    }

    private static void Line(TextWriter writer, int depth, string text)
    {
        var indent = new string(' ', depth * 2);
        foreach (var line in SoftWrap.Lines(Printable.Clean(text), Columns, indent.Length, indent.Length + 4).Select((l, i) => i is 0 ? indent + l : l))
            writer.Write(line + "\n");
    }
}
