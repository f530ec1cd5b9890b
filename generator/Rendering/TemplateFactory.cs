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

    /// <summary>Renders a built-in template of HTML; what the view holds as text cannot become markup.</summary>
    /// <exception cref="InvalidOperationException">The template is wrong; names the place in it.</exception>
    public static Html RenderHtml(string resource, object view) => new(Run(Resources.Text(resource), resource, new HtmlContext(), view));

    internal static string RenderText(string text, string path, object view) => Run(text, path, new TemplateContext(), view);

    internal static string RenderHtmlText(string text, string path, object view) => Run(text, path, new HtmlContext(), view);

    private static string Run(string text, string path, TemplateContext context, object view)
    {
        var template = Template.Parse(text, path);
        if (template.HasErrors)
            throw new InvalidOperationException(string.Join("; ", template.Messages));
        try
        {
            return template.Render(Strict(context, view));
        }
        catch (Scriban.Syntax.ScriptRuntimeException e)
        {
            throw new InvalidOperationException(e.Message, e);
        }
    }

    private static TemplateContext Strict(TemplateContext context, object view)
    {
        var globals = new ScriptObject(StringComparer.Ordinal);
        globals.Import(view, renamer: StandardMemberRenamer.Default);
        context.StrictVariables = true;
        context.EnableRelaxedMemberAccess = false;
        context.EnableRelaxedIndexerAccess = false;
        context.EnableRelaxedTargetAccess = false;
        context.EnableRelaxedFunctionAccess = false;
        context.MemberRenamer = StandardMemberRenamer.Default;
        context.NewLine = "\n";
        context.LoopLimit = MostLoops;
        context.LimitToString = 0;
        context.RecursiveLimit = 20;
        context.PushCulture(CultureInfo.InvariantCulture);
        context.PushGlobal(globals);
        return context;
    }
}
