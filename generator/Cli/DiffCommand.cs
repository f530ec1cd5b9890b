using System.CommandLine;
using Locum.Diagnostics;
using Locum.Reviewing;
using Locum.Text;

namespace Locum.Cli;

/// <summary>locum diff: what a change means.</summary>
internal static class DiffCommand
{
    // Path, old file, old hash, old mode, new file, new hash, new mode; for a renamed file two more.
    private const int DriverArguments = 7;

    public static Command Create(Terminal terminal)
    {
        var sides = new Argument<string[]>("old new") { Description = "Files, folders with a project.yaml, or REVISION:PATH in a git repository.", Arity = ArgumentArity.OneOrMore };
        var path = new Option<string?>("--path") { Description = "OLD and NEW are git revisions of this file or folder; without NEW its present state." };
        var format = CommonOptions.Choice("--format", "How differences are written", "text", "json", "markdown");
        var driver = new Option<bool>("--driver") { Description = "Reads the arguments that git gives to a diff driver." };
        var command = new Command("diff", "Tells differences in meaning, not lines.\nExample: locum diff HEAD~1 HEAD --path projects/depot-loco") { sides, path, format, driver };
        command.SetAction(result => Run(terminal, result.GetRequiredValue(sides), result.GetValue(path), result.GetRequiredValue(format), result.GetValue(driver)));
        return command;
    }

    private static int Run(Terminal terminal, string[] sides, string? path, string format, bool driver)
    {
        var scratch = Directory.CreateTempSubdirectory("locum-diff-").FullName;
        try
        {
            if (driver)
                return Drive(terminal, sides, scratch);
            var (old, now) = (sides, path) switch
            {
                ([var a, var b], null) => (a, b),
                ([var a, var b], { } p) => (Revision(a, p), Revision(b, p)),
                ([var a], { } p) => (Revision(a, p), p),
                _ => (null, null),
            };
            if (old is not null && now is not null)
                return Compare(terminal, old, now, format, scratch);
            terminal.Error.WriteLine("locum: diff compares two things");
            terminal.Error.WriteLine("  mend: name two files, folders or REVISION:PATH, or revisions with --path");
        }
        catch (GitException e)
        {
            terminal.Error.WriteLine($"locum: {Printable.Clean(e.Message)}");
            terminal.Error.WriteLine($"  mend: {e.Mend}");
        }
        finally
        {
            Directory.Delete(scratch, recursive: true);
        }
        return ExitCode.Unusable;
    }

    // As the user sees the path: from here, not from the repository's root.
    private static string Revision(string revision, string path) => $"{revision}:./{path}";

    private static int Compare(Terminal terminal, string oldName, string newName, string format, string scratch)
    {
        var old = Side.Load(oldName, Path.Combine(scratch, "old"));
        var now = Side.Load(newName, Path.Combine(scratch, "new"));
        if (old.Subject is null || now.Subject is null || old.Subject.IsStimulus != now.Subject.IsStimulus)
            return Refuse(terminal, [(oldName, old), (newName, now)]);
        var review = Review.Of(old.Subject, now.Subject);
        switch (format)
        {
            case "json":
                ReviewJson.Write(terminal.Stream, review);
                terminal.Stream.Flush();
                break;
            case "markdown":
                ReviewMarkdown.Write(terminal.Output, review);
                break;
            default:
                ReviewText.Write(terminal.Output, review);
                break;
        }
        return review.Changes.Count is 0 ? ExitCode.Fine : ExitCode.Findings;
    }

    private static int Refuse(Terminal terminal, (string Name, Side Side)[] sides)
    {
        foreach (var (name, side) in sides.Where(s => s.Side.Subject is null))
        {
            if (side.Findings.Any(f => f.Severity is Severity.Error))
                terminal.Report(side.Findings, new Dictionary<string, SourceText>(side.Sources, StringComparer.Ordinal));
            else
                terminal.Error.WriteLine($"locum: '{Printable.Clean(name)}' is a layout, which is no part of a firmware\n  mend: compare descriptions, projects or stimuli");
        }
        if (sides.All(s => s.Side.Subject is not null))
            terminal.Error.WriteLine($"locum: '{Printable.Clean(sides.First(s => s.Side.Subject!.IsStimulus).Name)}' is a stimulus and the other is none\n  mend: compare stimuli with stimuli, descriptions and projects with each other");
        if (sides.Any(s => !s.Name.Contains(':', StringComparison.Ordinal) && !File.Exists(s.Name) && !Directory.Exists(s.Name)))
            terminal.Error.WriteLine("  mend: for git revisions add --path PATH, or write REVISION:PATH");
        return ExitCode.Unusable;
    }

    // git ends a diff when its driver does not end with 0.
    private static int Drive(Terminal terminal, string[] arguments, string scratch)
    {
        if (arguments.Length < DriverArguments)
        {
            terminal.Error.WriteLine("locum: --driver is for git: git config diff.locum.command 'locum diff --driver'");
            return ExitCode.Unusable;
        }
        terminal.Output.Write(Driver.Show(arguments[0], arguments[1], arguments[4], scratch));
        return ExitCode.Fine;
    }
}
