using System.Globalization;
using Locum.Text;
using Scriban;
using Scriban.Runtime;

namespace Locum.Rendering;

/// <summary>The one place where templates are parsed and run: strict, so that a mistyped name is an error and not an empty text.</summary>
public static class TemplateFactory
{
    private const int MostLoops = 100_000;

    /// <summary>Renders a built-in template with a view as its global object.</summary>
    /// <exception cref="InvalidOperationException">The template is wrong; names the place in it.</exception>
    public static string Render(string resource, object view) => RenderText(Resources.Text(resource), resource, view);

    internal static string RenderText(string text, string path, object view)
    {
        var template = Template.Parse(text, path);
        if (template.HasErrors)
            throw new InvalidOperationException(string.Join("; ", template.Messages));
        try
        {
            return template.Render(Context(view));
        }
        catch (Scriban.Syntax.ScriptRuntimeException e)
        {
            throw new InvalidOperationException(e.Message, e);
        }
    }

    private static TemplateContext Context(object view)
    {
        var globals = new ScriptObject(StringComparer.Ordinal);
        globals.Import(view, renamer: StandardMemberRenamer.Default);
        var context = new TemplateContext
        {
            StrictVariables = true,
            EnableRelaxedMemberAccess = false,
            EnableRelaxedIndexerAccess = false,
            EnableRelaxedTargetAccess = false,
            EnableRelaxedFunctionAccess = false,
            MemberRenamer = StandardMemberRenamer.Default,
            NewLine = "\n",
            LoopLimit = MostLoops,
            LimitToString = 0,
            RecursiveLimit = 20,
        };
        context.PushCulture(CultureInfo.InvariantCulture);
        context.PushGlobal(globals);
        return context;
    }
}
