using Locum.Syntax;

namespace Locum.Formatting;

/// <summary>Something that can have a line of its own, an entry or an item, with what the author wrote around it.</summary>
/// <param name="Key">Null for items of a list.</param>
/// <param name="Column">1-based; of an item the column of its dash.</param>
/// <param name="Line">1-based, where it starts.</param>
internal sealed class Anchor(ScalarNode? key, SyntaxNode value, SyntaxNode collection, Anchor? parent, int line, int column)
{
    public ScalarNode? Key { get; } = key;

    public SyntaxNode Value { get; } = value;

    /// <summary>The mapping or list it belongs to.</summary>
    public SyntaxNode Collection { get; } = collection;

    public Anchor? Parent { get; } = parent;

    public int Line { get; } = line;

    public int Column { get; } = column;

    /// <summary>An empty line stands right before it.</summary>
    public bool Blank { get; set; }

    /// <summary>Comments on lines of their own before it.</summary>
    public List<OwnLine> Before { get; } = [];

    /// <summary>Comments behind it.</summary>
    public List<string> Beside { get; } = [];
}

/// <summary>A comment on a line of its own.</summary>
/// <param name="Blank">An empty line stands right before it.</param>
internal sealed record OwnLine(string Text, bool Blank);
