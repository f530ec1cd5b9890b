using Locum.Text;

namespace Locum.Syntax;

/// <summary>A value in a description, with its place.</summary>
public abstract record SyntaxNode(Span Span)
{
    /// <summary>What a reader would call it, for messages.</summary>
    public abstract string Kind { get; }
}

/// <summary>A single value; its text is not interpreted here.</summary>
public sealed record ScalarNode(string Value, bool Quoted, Span Span) : SyntaxNode(Span)
{
    public override string Kind => Value.Length is 0 && !Quoted ? "nothing" : "a single value";
}

/// <summary>A list of values.</summary>
public sealed record SequenceNode(IReadOnlyList<SyntaxNode> Items, Span Span) : SyntaxNode(Span)
{
    public override string Kind => "a list";
}

/// <summary>Keys with their values, in the order of the text; keys are unique.</summary>
public sealed record MappingNode(IReadOnlyList<MappingEntry> Entries, Span Span) : SyntaxNode(Span)
{
    public override string Kind => "a mapping";
}

/// <summary>One key with its value.</summary>
public sealed record MappingEntry(ScalarNode Key, SyntaxNode Value);
