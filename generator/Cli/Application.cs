using System.CommandLine;

namespace Locum.Cli;

/// <summary>The command line.</summary>
internal static class Application
{
    /// <summary>All commands with their arguments and options.</summary>
    public static RootCommand Tree(Terminal terminal) =>
        new("Locum writes firmware for boards that stand in for removed vehicle modules.")
        {
            NewCommand.Create(terminal),
            CheckCommand.Create(terminal),
            SimulateCommand.Create(terminal),
            GenerateCommand.Create(terminal),
            ProveCommand.Create(terminal),
            AllCommand.Create(terminal),
            BoardsCommand.Create(terminal),
            SchemaCommand.Create(terminal),
            FormatCommand.Create(terminal),
            DiffCommand.Create(terminal),
            MissingCommand.Create(terminal),
            AuditCommand.Create(terminal),
            BudgetCommand.Create(terminal),
            BenchCommand.Create(terminal),
            ReadCommand.Create(terminal),
            DraftCommand.Create(terminal),
            ReportCommand.Create(terminal),
            CompletionCommand.Create(terminal),
        };

    /// <summary>Runs one command line; returns the exit code.</summary>
    public static int Run(string[] arguments, Terminal terminal)
    {
        var parsed = Tree(terminal).Parse(arguments);
        try
        {
            var code = parsed.Invoke(new InvocationConfiguration { Output = terminal.Output, Error = terminal.Error, EnableDefaultExceptionHandler = false });
            return parsed.Errors.Count > 0 ? ExitCode.Unusable : code;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            terminal.Error.WriteLine($"locum: {e.Message}");
            return ExitCode.Unusable;
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            terminal.Error.WriteLine($"locum: internal fault: {e.Message}");
            terminal.Error.WriteLine("  mend: this is a mistake in the program, not in your files; please report it with the files that led to it");
            if (Environment.GetEnvironmentVariable("LOCUM_FAULTS") is "full")
                terminal.Error.WriteLine(e.ToString());
            return ExitCode.Fault;
        }
    }
}
