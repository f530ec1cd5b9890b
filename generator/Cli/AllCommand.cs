using System.CommandLine;
using Locum.Proving;
using Locum.Reporting;
using Locum.Simulation;

namespace Locum.Cli;

/// <summary>locum all: check, simulate, generate and prove in one go.</summary>
internal static class AllCommand
{
    public static Command Create(Terminal terminal)
    {
        var path = CommonOptions.Path();
        var output = new Option<string>("--out") { Description = "Folder for the firmware projects.", DefaultValueFactory = _ => "out" };
        var command = new Command("all", "Checks, simulates, generates and proves a project.\nExample: locum all projects/depot-loco --out out/depot-loco") { path, output };
        command.SetAction(result => Run(terminal, result.GetRequiredValue(path), result.GetRequiredValue(output)));
        return command;
    }

    private static int Run(Terminal terminal, string path, string output)
    {
        if (Session.Open(terminal, path, null, null, null) is not { } session)
            return ExitCode.Unusable;
        foreach (var plan in session.Plans)
        {
            var stimulus = session.StimulusFor(plan);
            terminal.Output.WriteLine($"board {plan.Name}:");
            if (SessionRun.Of(terminal, session, [plan], stimulus) is not { } result)
                return ExitCode.Findings;
            SummaryTable.Write(terminal.Tables(), [plan], stimulus, result);
        }
        GenerateCommand.Write(terminal, session.ProjectName, session.Plans, output);
        if (CCompiler.Find() is { } compiler)
            return ProveCommand.Run(terminal, session, compiler);
        terminal.Output.WriteLine("not proved: no C compiler was found on this machine ('locum prove' tells more)");
        return ExitCode.Fine;
    }
}
