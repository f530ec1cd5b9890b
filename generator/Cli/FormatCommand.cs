using System.CommandLine;
using System.Text;
using Locum.Diagnostics;
using Locum.Formatting;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Cli;

/// <summary>locum format: the canonical form of descriptions.</summary>
internal static class FormatCommand
{
    public static Command Create(Terminal terminal)
    {
        var paths = new Argument<string[]>("path") { Description = "Descriptions, project, stimulus or layout files, or folders with them.", Arity = ArgumentArity.OneOrMore };
        var check = new Option<bool>("--check") { Description = "Writes nothing; lists the files that differ and ends with 1 when there are any." };
        var command = new Command("format", "Writes descriptions in canonical form and keeps their comments.\nExample: locum format projects/depot-loco") { paths, check };
        command.SetAction(result => Run(terminal, result.GetRequiredValue(paths), result.GetValue(check)));
        return command;
    }

    private static int Run(Terminal terminal, string[] paths, bool check)
    {
        var diagnostics = new DiagnosticBag();
        var sources = new Dictionary<string, SourceText>(StringComparer.Ordinal);
        var different = 0;
        foreach (var path in paths.SelectMany(Files).Distinct(StringComparer.Ordinal))
        {
            if (SyntaxReader.ReadFile(path, diagnostics) is not { } source)
                continue;
            sources[path] = source;
            if (Formatter.Format(source, diagnostics) is not { } text || text == source.Text)
                continue;
            different++;
            if (!check)
                Cli.Files.Replace(path, text);
            terminal.Output.WriteLine(check ? path : $"{path}: formatted");
        }
        if (diagnostics.Sorted.Count > 0)
            terminal.Report(diagnostics.Sorted, sources);
        if (diagnostics.HasErrors)
            return ExitCode.Unusable;
        return check && different > 0 ? ExitCode.Findings : ExitCode.Fine;
    }

    // Of a folder all files of the language; other YAML files are nobody's business here.
    private static IEnumerable<string> Files(string path) => Directory.Exists(path)
        ? Directory.EnumerateFiles(path, "*.yaml", new EnumerationOptions { RecurseSubdirectories = true, AttributesToSkip = FileAttributes.Hidden })
            .Where(IsOurs).Order(StringComparer.Ordinal)
        : [path];

    private static bool IsOurs(string path) => File.ReadLines(path).Any(l => l.StartsWith("locum:", StringComparison.Ordinal));
}
