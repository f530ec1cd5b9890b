using Locum.Diagnostics;

namespace Locum.Formulas;

/// <summary>Resolves names: fields, modes.</summary>
internal sealed class NameBinder(FormulaText source, IFormulaScope scope, DiagnosticBag diagnostics)
{
    private const string Mode = "mode";

    /// <summary>The value of a name, or null (and a finding).</summary>
    public FormulaNode? Bind(Place place)
    {
        if (Find(place) is not { } symbol)
            return null;
        if (NodeFactory.Read(place, symbol) is { } node)
            return node;
        diagnostics.Add(Codes.FormulaWide, source.At(place), $"'{symbol.Name}' has {symbol.Bits} bits, formulas compute with 32 bits signed", $"take a part of it, such as 'bits({symbol.Name}, 0, 16)'");
        return null;
    }

    /// <summary>What a name stands for, or null (and a finding).</summary>
    public FormulaSymbol? Find(Place place)
    {
        var name = Name(place);
        if (name is Mode)
        {
            diagnostics.Add(Codes.FormulaMode, source.At(place), "a mode is not a number", $"compare it with a mode, such as 'mode == {scope.Modes[0]}'");
            return null;
        }
        if (scope.Find(name) is not { } symbol)
        {
            diagnostics.Add(Codes.FormulaName, source.At(place), $"there is no '{Printable.Short(name)}' to read", Mend(name, place, [.. scope.Names, Mode], "name"));
            return null;
        }
        if (!symbol.Later)
            return symbol;
        diagnostics.Add(Codes.FormulaOrder, source.At(place), $"'{symbol.Name}' is computed after this formula", "define it before; values and counters come first, then formulas in order of definition, then checksums");
        return null;
    }

    /// <summary>Binds "mode == NAME" and "mode != NAME" (either side); false when it is another comparison.</summary>
    /// <param name="node">Null (and a finding) when there is no such mode.</param>
    public bool BindMode(Place whole, Place left, Place right, bool equal, out FormulaNode? node)
    {
        node = null;
        if (Name(left) is not Mode && Name(right) is not Mode)
            return false;
        var other = Name(left) is Mode ? right : left;
        var index = scope.Modes.ToList().IndexOf(Name(other));
        if (index >= 0)
            node = new ModeNode(whole, index, equal);
        else
            diagnostics.Add(Codes.FormulaMode, source.At(other), $"there is no mode '{Printable.Short(Name(other))}'", Mend(Name(other), other, scope.Modes, "mode"));
        return true;
    }

    // A hyphen in a name is read as a minus.
    private string Mend(string name, Place place, IReadOnlyCollection<string> names, string what)
    {
        var text = source.Text;
        var end = place.Start + place.Length;
        while (end < text.Length && (char.IsLetterOrDigit(text[end]) || text[end] is '_' or '-' or '.'))
            end++;
        var joined = FormulaParser.Word(text[place.Start..end]);
        var known = names.FirstOrDefault(n => n == joined || n == FormulaParser.Word(name));
        return known is null ? Nearest.Mend(name, names, what) : $"write '{known}': a formula has '_' where a name has a hyphen, a space or a point";
    }

    private string Name(Place place) => string.Concat(source.Of(place).Where(c => !char.IsWhiteSpace(c)));
}
