using Locum.Syntax;
using Locum.Text;

namespace Locum.Formatting;

/// <summary>Comments and empty lines of a text, attached to the entries and items they belong to.</summary>
internal sealed class Trivia
{
    private readonly List<Anchor> _anchors = [];
    private readonly Dictionary<SyntaxNode, List<Anchor>> _children = new(ReferenceEqualityComparer.Instance);
    private readonly Dictionary<SyntaxNode, List<OwnLine>> _tails = new(ReferenceEqualityComparer.Instance);
    private readonly SourceText _source;

    public Trivia(SourceText source, MappingNode root)
    {
        _source = source;
        Root = root;
        Collect(root, null);
        foreach (var anchor in _anchors)
            anchor.Blank = IsBlank(anchor.Line - 1);
        foreach (var comment in CommentReader.Read(source))
            Attach(comment);
    }

    public MappingNode Root { get; }

    /// <summary>Entries or items of a collection, in the order of the text.</summary>
    public IReadOnlyList<Anchor> Children(SyntaxNode collection) => _children.GetValueOrDefault(collection) ?? [];

    /// <summary>Comments behind the last entry or item of a collection.</summary>
    public IReadOnlyList<OwnLine> Tail(SyntaxNode collection) => _tails.GetValueOrDefault(collection) ?? [];

    /// <summary>True when the author wrote a mapping in braces, a list in brackets.</summary>
    public bool IsFlow(SyntaxNode node) => node is not ScalarNode && First(node) is '{' or '[';

    private char First(SyntaxNode node)
    {
        var line = _source.Line(node.Span.Line);
        return node.Span.Column <= line.Length ? line[node.Span.Column - 1] : ' ';
    }

    private void Collect(SyntaxNode collection, Anchor? parent)
    {
        var children = _children[collection] = [];
        switch (collection)
        {
            case MappingNode mapping:
                foreach (var (key, value) in mapping.Entries)
                    Add(new Anchor(key, value, collection, parent, key.Span.Line, key.Span.Column), children);
                break;
            case SequenceNode sequence:
                foreach (var item in sequence.Items)
                    Add(new Anchor(null, item, collection, parent, item.Span.Line, DashColumn(item)), children);
                break;
            default:
                break;
        }
    }

    private void Add(Anchor anchor, List<Anchor> siblings)
    {
        siblings.Add(anchor);
        _anchors.Add(anchor);
        Collect(anchor.Value, anchor);
    }

    private int DashColumn(SyntaxNode item)
    {
        var before = _source.Line(item.Span.Line)[..(item.Span.Column - 1)].TrimEnd();
        return before.EndsWith('-') ? before.Length : item.Span.Column;
    }

    private bool IsBlank(int line) => line >= 1 && string.IsNullOrWhiteSpace(_source.Line(line));

    private void Attach(SourceComment comment)
    {
        var at = (comment.Line, comment.Column);
        // Anchors stand in the order of the text, outer ones first.
        var index = _anchors.FindLastIndex(a => (a.Line, a.Column).CompareTo(at) < 0);
        var previous = index >= 0 ? _anchors[index] : null;
        var next = index + 1 < _anchors.Count ? _anchors[index + 1] : null;
        if (comment.Beside && previous is not null)
            Outermost(previous, at).Beside.Add(comment.Text);
        else
            AttachOwnLine(new OwnLine(comment.Text, IsBlank(comment.Line - 1)), at, previous, next);
    }

    // A comment behind a closing bracket belongs to what the bracket closes.
    private Anchor Outermost(Anchor anchor, (int, int) at)
    {
        while (anchor.Parent is { } parent && IsFlow(parent.Value) && End(parent.Value).CompareTo(at) <= 0)
            anchor = parent;
        return anchor;
    }

    private void AttachOwnLine(OwnLine comment, (int Line, int Column) at, Anchor? previous, Anchor? next)
    {
        var flow = previous;
        while (flow is not null && !(IsFlow(flow.Value) && Start(flow.Value).CompareTo(at) < 0 && End(flow.Value).CompareTo(at) > 0))
            flow = flow.Parent;
        if (previous is not null && Start(previous.Value).CompareTo(at) > 0 && (previous.Value is ScalarNode { Value.Length: > 0 } || IsFlow(previous.Value)))
            previous.Before.Add(comment);
        else if (flow is not null && Children(flow.Value).Count is 0)
            flow.Before.Add(comment);
        else if (flow is not null && (next is null || (next.Line, next.Column).CompareTo(End(flow.Value)) >= 0))
            TailOf(flow.Value).Add(comment);
        else if (flow is null && Block(previous, at.Column) is { } inside && inside.Column > (next?.Column ?? 0))
            TailOf(inside.Collection).Add(comment);
        else if (next is not null)
            next.Before.Add(comment);
        else
            TailOf(Root).Add(comment);
    }

    // The innermost entry before a comment whose block the comment's indentation reaches.
    private Anchor? Block(Anchor? anchor, int column)
    {
        while (anchor is not null && (IsFlow(anchor.Collection) || anchor.Column > column))
            anchor = anchor.Parent;
        return anchor;
    }

    private List<OwnLine> TailOf(SyntaxNode collection)
    {
        if (!_tails.TryGetValue(collection, out var tail))
            _tails[collection] = tail = [];
        return tail;
    }

    private static (int, int) Start(SyntaxNode node) => (node.Span.Line, node.Span.Column);

    private static (int, int) End(SyntaxNode node) => (node.Span.EndLine, node.Span.EndColumn);
}
