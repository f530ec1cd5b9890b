using System.CommandLine;
using Locum.Auditing;
using Locum.Budgeting;
using Locum.Capture;
using Locum.Model;
using Locum.Pages;
using Locum.Pipeline;
using Locum.Simulation;

namespace Locum.Cli;

/// <summary>locum report: one page about everything.</summary>
internal static class ReportCommand
{
    public static Command Create(Terminal terminal)
    {
        var path = CommonOptions.Path();
        var stimulus = CommonOptions.Stimulus();
        var board = CommonOptions.Board();
        var captures = new Option<string[]>("--capture") { Description = "What else is on the buses: captures.", AllowMultipleArgumentsPerToken = true, DefaultValueFactory = _ => [] };
        var audit = new Option<string?>("--audit") { Description = "A capture of the boards in the vehicle, to be audited." };
        var original = new Option<string?>("--original") { Description = "With --audit: a capture of the real module, to compare with." };
        var layout = CaptureInput.Layout();
        var title = new Option<string?>("--title") { Description = "Title of the page. Default: the project's name." };
        var output = new Option<string>("--out") { Description = "The page, an HTML file that needs no other.", Required = true };
        var command = new Command("report", "Writes one HTML page about a project: frames in time, payloads, modes, load, boards, evidence.\nExample: locum report projects/depot-loco --out depot-loco.html")
        {
            path, stimulus, board, captures, audit, original, layout, title, output,
        };
        command.Validators.Add(result =>
        {
            if (result.GetValue(original) is not null && result.GetValue(audit) is null)
                result.AddError("--original needs --audit: a capture of the board to compare with it");
        });
        command.SetAction(result => Run(terminal, Session.Open(terminal, result.GetRequiredValue(path), result.GetValue(board), result.GetValue(stimulus), null),
            result.GetRequiredValue(captures), (result.GetValue(audit), result.GetValue(original)), result.GetValue(layout), result.GetValue(title), result.GetRequiredValue(output)));
        return command;
    }

    private static int Run(Terminal terminal, Session? session, string[] others, (string? Capture, string? Original) audit, string? layout, string? title, string output)
    {
        if (session is null || CaptureInput.Load(terminal, others, layout) is not { } captures || BudgetInput.Refuse(terminal, session.Plans, captures))
            return ExitCode.Unusable;
        string[] audited = audit.Capture is null ? [] : audit.Original is null ? [audit.Capture] : [audit.Capture, audit.Original];
        if (CaptureInput.Load(terminal, audited, layout) is not { } judged || judged.Any(c => AuditCommand.Refuse(terminal, c)))
            return ExitCode.Unusable;
        if (Subject(terminal, session, captures, judged, title) is not { } subject)
            return ExitCode.Findings;
        var page = ReportPage.Render(subject);
        Files.WriteAtomically(output, stream =>
        {
            using var writer = new StreamWriter(stream) { NewLine = "\n" };
            writer.Write(page);
        });
        terminal.Error.WriteLine($"report written to {output}");
        return ExitCode.Fine;
    }

    private static ReportSubject? Subject(Terminal terminal, Session session, IReadOnlyList<LoadedCapture> captures, IReadOnlyList<LoadedCapture> judged, string? title)
    {
        var stimulus = session.Combined();
        var known = stimulus != Stimulus.Quiet;
        if (!known)
            stimulus = BudgetInput.Awake(session.Plans);
        if (SessionRun.Of(terminal, session, session.Plans, stimulus) is not { } result)
            return null;
        return new ReportSubject
        {
            Title = title ?? session.ProjectName,
            Version = Versions.Generator,
            Project = session.Loaded.Project!,
            Plans = session.Plans,
            Stimulus = stimulus,
            HasStimulus = known,
            Result = result,
            Budgets = Budget.Of(session.Plans, BudgetInput.Composed(session), [.. captures.Select(c => c.Recording)], new StreamOptions(null, StreamOptions.CustomaryEventsUs), null),
            Audit = judged.Count is 0 ? null : (judged[0].Path, Audit.Of(session.Plans, judged[0].Recording, judged.Count > 1 ? judged[1].Recording : null)),
            Findings = session.Loaded.Diagnostics.Sorted,
            Sources = session.Loaded.Sources,
        };
    }
}
