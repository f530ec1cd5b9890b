using System.CommandLine;
using Locum.Diagnostics;
using Locum.Pipeline;
using Locum.Reporting;
using Locum.Text;

namespace Locum.Cli;

/// <summary>locum check: every finding in one run.</summary>
internal static class CheckCommand
{
    public static Command Create(Terminal terminal)
    {
        var paths = new Argument<string[]>("path") { Description = "Descriptions, project, stimulus or layout files, or folders with a project.yaml.", Arity = ArgumentArity.OneOrMore };
        var format = CommonOptions.Choice("--format", "How findings are written", "text", "json", "sarif");
        var command = new Command("check", "Checks descriptions: shape, meaning, hazards, boards.\nExample: locum check projects/depot-loco") { paths, format };
        command.SetAction(result => Run(terminal, result.GetRequiredValue(paths), result.GetRequiredValue(format)));
        return command;
    }

    private static int Run(Terminal terminal, string[] paths, string format)
    {
        var loaded = paths.Select(Loader.Load).ToList();
        // A file that two projects use is reported once.
        var all = new DiagnosticBag();
        var sources = new Dictionary<string, SourceText>(StringComparer.Ordinal);
        foreach (var one in loaded)
        {
            all.AddAll(one.Diagnostics);
            foreach (var source in one.Sources)
                sources[source.Key] = source.Value;
        }
        var findings = all.Sorted;
        switch (format)
        {
            case "json":
                DiagnosticJson.Write(terminal.Stream, findings);
                break;
            case "sarif":
                DiagnosticSarif.Write(terminal.Stream, findings, Versions.Generator);
                break;
            default:
                terminal.Print(findings, sources);
                Cautioning.Show(terminal.Output, loaded.SelectMany(l => l.Plans));
                break;
        }
        terminal.Stream.Flush();
        if (loaded.Any(l => l.Sources.Count is 0))
            return ExitCode.Unusable;
        return findings.Any(d => d.Severity is not Severity.Note) ? ExitCode.Findings : ExitCode.Fine;
    }
}
