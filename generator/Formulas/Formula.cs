namespace Locum.Formulas;

/// <summary>A checked formula.</summary>
/// <param name="Text">As written, in one line.</param>
/// <param name="Root">Its meaning.</param>
public sealed record Formula(string Text, FormulaNode Root)
{
    /// <summary>Fields that are read at run time, each once.</summary>
    public IReadOnlyList<FormulaSymbol> Symbols =>
        [.. Nodes(Root).Select(n => (n as ReadNode)?.Symbol ?? (n as WideBitsNode)?.Symbol).OfType<FormulaSymbol>().Distinct()];

    /// <summary>Payload bytes that are read, rising.</summary>
    public IReadOnlyList<int> Bytes =>
        [.. Nodes(Root).OfType<BytesNode>().SelectMany(b => Enumerable.Range(b.First, b.Last - b.First + 1)).Distinct().Order()];

    public bool ReadsMode => Nodes(Root).Any(n => n is ModeNode);

    private static IEnumerable<FormulaNode> Nodes(FormulaNode node) => node.Deciding.SelectMany(Nodes).Prepend(node);
}
