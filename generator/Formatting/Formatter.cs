using Locum.Diagnostics;
using Locum.Schema;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Formatting;

/// <summary>
/// The canonical form of a description, project or stimulus: keys in the order of the language's table, two spaces of
/// indentation, at most 100 columns, numbers and quantities in one spelling. Comments and empty lines between groups stay.
/// </summary>
public static class Formatter
{
    /// <summary>The text in canonical form; null (and findings) when it is not usable YAML. Keys need not be known.</summary>
    /// <exception cref="InvalidOperationException">The result would not mean the same: a mistake of this program.</exception>
    public static string? Format(SourceText source, DiagnosticBag diagnostics)
    {
        var found = new DiagnosticBag();
        var node = SyntaxReader.Read(source, found);
        if (node is not null and not MappingNode)
            found.Add(Codes.WrongShape, node.Span, $"a description is a mapping of keys, this is {node.Kind}", "write 'key: value' lines");
        foreach (var d in found.Sorted)
            diagnostics.Add(d.Code, d.Span, d.Message, d.Mend, d.Other);
        if (found.HasErrors || node is not MappingNode root)
            return null;
        if (root.Entries.Count is 0)
            return source.Text;
        var shape = new Mapping(Language.RootOf(root));
        var text = string.Concat(new BlockWriter(new Trivia(source, root)).Write(shape).Select(l => l + "\n"));
        Recheck.Same(source, root, text, shape);
        return source.Text.Contains("\r\n", StringComparison.Ordinal) ? text.Replace("\n", "\r\n", StringComparison.Ordinal) : text;
    }
}
