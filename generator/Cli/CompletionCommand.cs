using System.CommandLine;
using Locum.Text;

namespace Locum.Cli;

/// <summary>locum completion: a script that lets a shell complete command lines.</summary>
internal static class CompletionCommand
{
    private static readonly string[] s_shells = ["bash", "zsh", "pwsh"];

    public static Command Create(Terminal terminal)
    {
        var shell = new Argument<string>("shell") { Description = $"The shell: {string.Join(", ", s_shells)}." };
        shell.AcceptOnlyFromAmong(s_shells);
        var command = new Command("completion", "Writes a script that completes commands, options and their words in a shell.\nExample: source <(locum completion bash)") { shell };
        command.SetAction(result =>
        {
            terminal.Output.Write(Resources.Text($"templates/completion/{result.GetRequiredValue(shell)}"));
            return ExitCode.Fine;
        });
        return command;
    }
}
