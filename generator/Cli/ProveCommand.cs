using System.CommandLine;
using Locum.Pipeline;
using Locum.Proving;

namespace Locum.Cli;

/// <summary>locum prove: the generated C beside the simulator.</summary>
internal static class ProveCommand
{
    public static Command Create(Terminal terminal)
    {
        var path = CommonOptions.Path();
        var stimulus = CommonOptions.Stimulus();
        var board = CommonOptions.Board();
        var time = CommonOptions.For();
        var format = CommonOptions.Choice("--format", "How the result is written", "text", "json");
        var command = new Command("prove", "Compiles the generated C for this PC and compares every frame with the simulator.\nExample: locum prove projects/depot-loco") { path, stimulus, board, time, format };
        command.SetAction(result =>
        {
            var session = Session.Open(terminal, result.GetRequiredValue(path), result.GetValue(board), result.GetValue(stimulus), result.GetValue(time));
            if (session is null)
                return ExitCode.Unusable;
            if (CCompiler.Find() is { } compiler)
                return Run(terminal, session, compiler, result.GetRequiredValue(format) is "json");
            terminal.Error.WriteLine("locum: no C compiler was found (tried cc, gcc and clang; the variable CC can name another)");
            terminal.Error.WriteLine("  mend: install one, on Debian with 'apt-get install gcc'; generated code is unproved until then");
            return ExitCode.Unusable;
        });
        return command;
    }

    internal static int Run(Terminal terminal, Session session, CCompiler compiler, bool json = false)
    {
        var equal = true;
        foreach (var plan in session.Plans)
        {
            var proof = Prover.Prove(plan, session.StimulusFor(plan), session.ProjectName, Versions.Generator, compiler);
            equal &= proof.Equal;
            if (json)
                terminal.Output.WriteLine(System.Text.Json.JsonSerializer.Serialize(new { board = plan.Name, equal = proof.Equal, frames = proof.Frames, difference = proof.Difference }));
            else if (proof.Equal)
                terminal.Output.WriteLine($"{plan.Name}: equal, {proof.Frames} frames byte for byte and microsecond for microsecond");
            else
                terminal.Output.Write($"{plan.Name}: DIFFERENT, {proof.Difference}");
        }
        return equal ? ExitCode.Fine : ExitCode.Findings;
    }
}
