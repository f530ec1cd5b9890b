using Locum.Planning;
using Locum.Rendering.Views;
using Locum.Text;

namespace Locum.Rendering;

/// <summary>Plan → the files of a firmware project: generated C, the core, the board's port, build files, a manual page.</summary>
public static class FirmwareRenderer
{
    private const string BoardsFolder = "templates/boards/";
    private const string ModuleFolder = "templates/module/";
    private const string ProjectFolder = "templates/project/";

    /// <summary>All files, by path. The same plan always gives the same bytes.</summary>
    public static IReadOnlyList<OutputFile> Render(BoardPlan plan, string project, string version)
    {
        var boardFolder = $"{BoardsFolder}{plan.Kind.Name}/";
        var core = Resources.Names.Where(n => n.StartsWith("core/", StringComparison.Ordinal)).Order(StringComparer.Ordinal).ToList();
        // The PC program brings its own main, because its time is a script's.
        var ownMain = plan.Kind.Name is BoardPlanner.PcBoard;
        var view = BoardViews.Of(plan, project, version, []);
        var sources = new List<string>();
        var files = new List<OutputFile>();
        foreach (var name in core)
            Add(name, Resources.Text(name));
        var onSpi = plan.Buses.Any(b => plan.Kind.IsOnSpi(b.Controller));
        foreach (var name in plan.Kind.Files.Concat(plan.Kind.Headers).Concat(onSpi ? plan.Kind.SpiFiles.Concat(plan.Kind.SpiHeaders) : []))
            Add($"port/{name[(name.LastIndexOf('/') + 1)..]}", Resources.Text(Find(name)));
        foreach (var name in plan.Kind.Extras)
            files.Add(new OutputFile(Target(name), Resources.Text(Find(name))));
        if (!ownMain)
            Add("main.c", Resources.Text($"{ProjectFolder}main.c"));
        foreach (var name in new[] { "locum_config.h", "locum_tables.c", "locum_tables.h" })
            Add(name, TemplateFactory.Render($"{ProjectFolder}{name}.scriban", view));
        foreach (var module in view.Modules)
            foreach (var ending in new[] { "c", "h" })
                Add($"{module.File}.{ending}", TemplateFactory.Render($"{ModuleFolder}module.{ending}.scriban", new { Module = module }));
        var complete = view with { Sources = [.. sources.Order(StringComparer.Ordinal)] };
        foreach (var name in plan.Kind.Templates)
            Add(Target(name)[..^".scriban".Length], TemplateFactory.Render(Find(name), complete));
        return [.. files.OrderBy(f => f.Path, StringComparer.Ordinal)];

        bool IsOwn(string name) => Resources.Names.Contains(boardFolder + name);

        // What is not in the board's folder is FOLDER/NAME.
        string Find(string name) => (IsOwn(name) ? boardFolder : BoardsFolder) + name;

        string Target(string name) => IsOwn(name) ? name : name[(name.IndexOf('/') + 1)..];

        void Add(string path, string text)
        {
            files.Add(new OutputFile(path, text));
            if (path.EndsWith(".c", StringComparison.Ordinal))
                sources.Add(path);
        }
    }
}
