using Locum.Diagnostics;

namespace Locum.Reviewing;

/// <summary>A review as Markdown (CommonMark with tables), for a comment on a change.</summary>
public static class ReviewMarkdown
{
    /// <summary>Writes a table of changes and one of effects; a sentence when nothing differs.</summary>
    public static void Write(TextWriter writer, Review review)
    {
        if (review.Changes.Count is 0)
        {
            writer.Write("No difference in meaning.\n");
            return;
        }
        writer.Write("| where | what | before | after |\n|---|---|---|---|\n");
        foreach (var change in review.Changes)
        {
            var what = change.Label.Length > 0 ? change.Label : change.Kind.ToString().ToLowerInvariant();
            writer.Write($"| {Cell(string.Join(" / ", change.Path))} | {(change.Hazard ? $"**{Cell(what)}**" : Cell(what))} | {Cell(change.Before ?? "")} | {Cell(change.After ?? "")} |\n");
        }
        if (review.Effects.Count is 0)
            return;
        writer.Write("\n| effect | before | after |\n|---|---|---|\n");
        foreach (var effect in review.Effects)
            writer.Write($"| {Cell(effect.What)} | {Cell(effect.Before)} | {Cell(effect.After)} |\n");
    }

    // Nothing from a description becomes markup.
    private static string Cell(string text) => string.Concat(Printable.Clean(text).Select(c => "\\`*_{}[]<>()#!|~&".Contains(c, StringComparison.Ordinal) ? $"\\{c}" : c.ToString()));
}
