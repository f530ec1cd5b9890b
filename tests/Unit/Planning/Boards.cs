using Locum.Binding;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Tests.Unit.Planning;

/// <summary>Plans boards from texts.</summary>
internal static class Boards
{
    /// <summary>Plans one board with the given keys ("board: pc, …") and module texts.</summary>
    public static (BoardPlan? Plan, IReadOnlyList<Diagnostic> Found) Plan(string keys, params string[] modules)
    {
        var bag = new DiagnosticBag();
        var files = string.Join(", ", Enumerable.Range(0, modules.Length).Select(i => $"{i}.yaml"));
        var source = new SourceText("project.yaml", $"{{locum: 1, project: p, boards: {{b: {{modules: [{files}], {keys}}}}}}}");
        var project = ProjectBinder.Bind(source, SyntaxReader.Read(source, bag)!, (name, _) => Bind(name, modules[name[0] - '0'], bag), bag)!;
        return (BoardPlanner.Plan(project.Boards[0], bag), bag.Sorted);
    }

    /// <summary>A module with the given buses ("body: {rate: …}"), inputs and frames, all flow mapping entries.</summary>
    public static string Module(string name, string buses, string frames, string inputs = "") =>
        $"locum: 1\nmodule: {name}\nhazard: none\nbuses: {{{buses}}}\ninputs: {{{inputs}}}\nframes: {{{frames}}}\n";

    private static Module? Bind(string path, string text, DiagnosticBag bag)
    {
        var source = new SourceText(path, text);
        return ModuleBinder.Bind(source, SyntaxReader.Read(source, bag)!, bag);
    }
}
