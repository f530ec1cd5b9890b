using Locum.Schema;
using Locum.Syntax;

namespace Locum.Formatting;

/// <summary>Writes collections with a line for each entry or item.</summary>
internal sealed class BlockWriter(Trivia trivia)
{
    public const int Columns = 100;

    private const int Step = 2;

    /// <summary>The whole text as lines.</summary>
    public IReadOnlyList<string> Write(Shape shape)
    {
        var hoisted = new List<OwnLine>();
        var body = Collection(trivia.Root, shape, 0, hoisted);
        var lines = new List<string>();
        OwnLines(hoisted, 0, lines, first: true);
        lines.AddRange(body);
        return lines;
    }

    // Comments before the first entry are handed out, since they may have to stand before a dash. An empty line
    // at the start of a block is left out; the entry's own one only when no comment stands before it.
    private List<string> Collection(SyntaxNode node, Shape? shape, int indent, List<OwnLine> hoisted)
    {
        var lines = new List<string>();
        var found = Language.For(shape, node);
        var first = true;
        foreach (var child in Places.Ordered(trivia.Children(node), found))
        {
            var before = new List<OwnLine>(child.Before);
            var body = child.Key is null ? Item(child, found, indent, before) : Entry(child, found, indent, before);
            if (first)
                hoisted.AddRange(before);
            else
                OwnLines(before, indent, lines, first: false);
            // Behind a comment that had to leave its line there is nothing to separate.
            if (child.Blank && (!first || child.Before.Count > 0))
                lines.Add("");
            lines.AddRange(body);
            first = false;
        }
        OwnLines(trivia.Tail(node), indent, lines, first);
        return lines;
    }

    private List<string> Entry(Anchor entry, Shape? parent, int indent, List<OwnLine> before)
    {
        var shape = Places.Behind(parent, entry);
        var head = new string(' ', indent) + ScalarText.Key(entry.Key!.Value, flow: false) + ":";
        if (OneLine(entry.Value, shape, head.Length + 1) is { } text)
            return [Beside(text.Length > 0 ? $"{head} {text}" : head, entry.Beside, before)];
        if (entry.Value is ScalarNode scalar)
            return [Beside($"{head} {LongText.Header(scalar.Value)}", entry.Beside, before), .. LongText.Lines(ScalarText.Normal(scalar.Value, Language.For(shape, scalar)), shape, indent + Step, Columns)];
        var hoisted = new List<OwnLine>();
        var body = Collection(entry.Value, shape, indent + Step, hoisted);
        var lines = new List<string> { Beside(head, entry.Beside, before) };
        OwnLines(hoisted, indent + Step, lines, first: true);
        lines.AddRange(body);
        return lines;
    }

    private List<string> Item(Anchor item, Shape? parent, int indent, List<OwnLine> before)
    {
        var shape = Places.Behind(parent, item);
        var dash = new string(' ', indent) + "-";
        if (OneLine(item.Value, shape, dash.Length + 1) is { } text)
            return [Beside(text.Length > 0 ? $"{dash} {text}" : dash, item.Beside, before)];
        if (item.Value is ScalarNode scalar)
            return [Beside($"{dash} {LongText.Header(scalar.Value)}", item.Beside, before), .. LongText.Lines(ScalarText.Normal(scalar.Value, Language.For(shape, scalar)), shape, indent + Step, Columns)];
        before.AddRange(item.Beside.Select(c => new OwnLine(c, false)));
        var body = Collection(item.Value, shape, indent + Step, before);
        var start = body.FindIndex(l => l.Length > 0);
        body.RemoveRange(0, start);
        body[0] = dash + " " + body[0][(indent + Step)..];
        return body;
    }

    // The value on the line of its key or dash; null when it needs lines of its own.
    private string? OneLine(SyntaxNode value, Shape? shape, int column)
    {
        if (value is not ScalarNode scalar)
            return Flow.Of(value, shape, trivia) is { } flow && (column + flow.Length <= Columns || trivia.Children(value).Count is 0) ? flow : null;
        var text = ScalarText.Of(scalar, shape, flow: false);
        return LongText.Suits(scalar.Value, column + text.Length > Columns) ? null : text;
    }

    // The last comment stands behind the line, others move above it.
    private static string Beside(string line, List<string> comments, List<OwnLine> before)
    {
        before.AddRange(comments.SkipLast(1).Select(c => new OwnLine(c, false)));
        return comments.Count > 0 ? $"{line}  {comments[^1]}" : line;
    }

    private static void OwnLines(IEnumerable<OwnLine> comments, int indent, List<string> lines, bool first)
    {
        foreach (var comment in comments)
        {
            if (comment.Blank && !first)
                lines.Add("");
            lines.Add(new string(' ', indent) + comment.Text);
            first = false;
        }
    }
}
