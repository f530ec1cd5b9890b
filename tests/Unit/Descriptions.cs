using Locum.Binding;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Text;
using Locum.Validation;

namespace Locum.Tests.Unit;

/// <summary>Short descriptions for tests, and the stages that read them.</summary>
internal static class Descriptions
{
    public const string File = "test.yaml";

    public static (SyntaxNode? Root, IReadOnlyList<Diagnostic> Found) Parse(string text)
    {
        var bag = new DiagnosticBag();
        return (SyntaxReader.Read(new SourceText(File, text), bag), bag.Sorted);
    }

    /// <summary>Syntax and binding, without the rules about meaning.</summary>
    public static (Module Module, IReadOnlyList<Diagnostic> Found) Bind(string text)
    {
        var bag = new DiagnosticBag();
        var source = new SourceText(File, text);
        var root = SyntaxReader.Read(source, bag) ?? throw new InvalidOperationException("the text of a test is not usable YAML");
        return (ModuleBinder.Bind(source, root, bag) ?? throw new InvalidOperationException("the text of a test is no mapping"), bag.Sorted);
    }

    /// <summary>All stages up to the rules about meaning.</summary>
    public static IReadOnlyList<Diagnostic> Check(string text)
    {
        var bag = new DiagnosticBag();
        var source = new SourceText(File, text);
        if (SyntaxReader.Read(source, bag) is { } root && ModuleBinder.Bind(source, root, bag) is { } module)
            ModuleValidator.Check(module, bag);
        return bag.Sorted;
    }

    /// <summary>A module with one bus, with the given sections behind it.</summary>
    public static string Module(string sections) =>
        $"locum: 1\nmodule: test\nhazard: none\nbuses: {{body: {{rate: 500 kbit/s}}}}\n{sections}\n";

    /// <summary>A module with one frame of 8 bytes that has the given fields (flow mapping entries).</summary>
    public static string Fields(string fields) =>
        Module($"frames: {{F: {{id: 0x100, length: 8, every: 20 ms, fields: {{{fields}}}}}}}");

    /// <summary>The codes in order of place, for comparing.</summary>
    public static string Ids(IReadOnlyList<Diagnostic> found) => string.Join(' ', found.Select(d => d.Code.Id));
}
