using System.CommandLine;
using Locum.Boards;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Locum.Rendering;

namespace Locum.Cli;

/// <summary>locum generate: a firmware project per board.</summary>
internal static class GenerateCommand
{
    public static Command Create(Terminal terminal)
    {
        var path = CommonOptions.Path();
        var board = CommonOptions.Board();
        var output = new Option<string>("--out") { Description = "Folder for the firmware projects, one sub-folder per board.", DefaultValueFactory = _ => "out" };
        var kind = new Option<string?>("--kind") { Description = "For a description by itself: the kind of board; 'locum boards' lists them." };
        var command = new Command("generate", "Writes C sources, build files and a flash recipe for each board.\nExample: locum generate projects/depot-loco --out out/depot-loco") { path, board, output, kind };
        command.SetAction(result => Run(terminal, result.GetRequiredValue(path), result.GetValue(board), result.GetRequiredValue(output), result.GetValue(kind)));
        return command;
    }

    private static int Run(Terminal terminal, string path, string? board, string output, string? kind)
    {
        if (Session.Open(terminal, path, board, null, null) is not { } session)
            return ExitCode.Unusable;
        var plans = session.Plans;
        if (kind is not null)
        {
            var diagnostics = new DiagnosticBag();
            plans = [.. session.Loaded.Project!.Boards.Select(b => BoardPlanner.Plan(b with { Kind = kind }, diagnostics)).OfType<BoardPlan>().Where(p => session.Plans.Any(s => s.Name == p.Name))];
            terminal.Report(diagnostics.Sorted, session.Loaded.Sources);
            if (diagnostics.HasErrors)
                return ExitCode.Unusable;
        }
        Write(terminal, session.ProjectName, plans, output);
        return ExitCode.Fine;
    }

    /// <summary>Renders everything before the first file is written.</summary>
    internal static void Write(Terminal terminal, string project, IReadOnlyList<BoardPlan> plans, string output)
    {
        var rendered = plans.Select(p => (Plan: p, Files: FirmwareRenderer.Render(p, project, Versions.Generator))).ToList();
        foreach (var (plan, files) in rendered)
        {
            var folder = Path.Combine(output, plan.Name);
            OutputFolder.Write(folder, files);
            terminal.Output.WriteLine($"{folder}: {files.Count} files for {plan.Kind.Name}; 'make' in there builds it, README.md tells the rest");
        }
    }
}
