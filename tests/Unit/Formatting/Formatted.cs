using Locum.Binding;
using Locum.Diagnostics;
using Locum.Formatting;
using Locum.Schema;
using Locum.Syntax;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Formatting;

/// <summary>Formats texts and holds the result against what formatting promises.</summary>
internal static class Formatted
{
    public static string Of(string text)
    {
        var bag = new DiagnosticBag();
        var result = Formatter.Format(new SourceText("test.yaml", text), bag);
        return result ?? throw new InvalidOperationException(string.Join('\n', bag.Sorted.Select(d => d.Message)));
    }

    /// <summary>True when the text is usable YAML.</summary>
    public static bool IsUsable(string text)
    {
        var bag = new DiagnosticBag();
        return SyntaxReader.Read(new SourceText("test.yaml", text), bag) is MappingNode && !bag.HasErrors;
    }

    /// <summary>Formatting twice is formatting once; model, findings and comments stay.</summary>
    public static void AssertPromises(string text)
    {
        var once = Of(text);
        Assert.Equal(once, Of(once));
        Assert.Equal(Meaning(text), Meaning(once));
        Assert.Equal(Comments(text), Comments(once));
        Assert.DoesNotContain("\n\n\n", once, StringComparison.Ordinal);
        Assert.EndsWith("\n", once, StringComparison.Ordinal);
    }

    private static string Meaning(string text)
    {
        var bag = new DiagnosticBag();
        var source = new SourceText("test.yaml", text);
        var root = SyntaxReader.Read(source, bag)!;
        object? model = Language.RootOf(root).Name switch
        {
            "stimulus" => StimulusBinder.Bind(root, null, null, bag),
            "layout" => LayoutBinder.Bind(source, root, bag),
            "project" => ProjectBinder.Bind(source, root, (_, _) => null, bag),
            _ => ModuleBinder.Bind(source, root, bag),
        };
        return ModelText.Of(model) + string.Join('\n', bag.Sorted.Select(d => d.Code.Id).Order());
    }

    private static IEnumerable<string> Comments(string text) => CommentReader.Read(new SourceText("test.yaml", text)).Select(c => c.Text).Order(StringComparer.Ordinal);
}
