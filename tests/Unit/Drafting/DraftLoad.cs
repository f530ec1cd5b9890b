using Locum.Binding;
using Locum.Diagnostics;
using Locum.Formatting;
using Locum.Model;
using Locum.Syntax;
using Locum.Text;
using Locum.Validation;
using Xunit;

namespace Locum.Tests.Unit.Drafting;

/// <summary>Reads a drafted description as a user's.</summary>
internal static class DraftLoad
{
    /// <summary>The description's model; findings above notes, but for those allowed, and another form than the canonical one fail.</summary>
    public static Module AssertClean(string text, params Code[] allowed)
    {
        var bag = new DiagnosticBag();
        var source = new SourceText("draft.yaml", text);
        var module = SyntaxReader.Read(source, bag) is { } root ? ModuleBinder.Bind(source, root, bag) : null;
        if (module is not null)
            ModuleValidator.Check(module, bag);
        Assert.True(bag.Sorted.All(d => d.Severity is Severity.Note || allowed.Contains(d.Code)), $"{string.Join("\n", bag.Sorted.Select(d => $"{d.Code.Id} {d.Span}: {d.Message}"))}\n{text}");
        Assert.Equal(text, Formatter.Format(source, bag));
        return module!;
    }
}
