using System.CommandLine;
using Locum.Binding;
using Locum.Budgeting;

namespace Locum.Cli;

/// <summary>locum budget: what buses have left.</summary>
internal static class BudgetCommand
{
    public static Command Create(Terminal terminal)
    {
        var path = new Argument<string?>("path") { Description = "A description, a project.yaml, or a folder with one.", Arity = ArgumentArity.ZeroOrOne };
        var board = CommonOptions.Board();
        var captures = new Option<string[]>("--capture") { Description = "What else is on the buses: captures.", AllowMultipleArgumentsPerToken = true, DefaultValueFactory = _ => [] };
        var layout = CaptureInput.Layout();
        var jitter = Time("--jitter", "From a release to the offer to the controller, at most, such as '300 us'. Default: what is known of the board.", 0);
        var events = Time("--events-every", "Least distance of events that nothing bounds. Default: 100 ms.", 1);
        var errors = Time("--errors-every", "Least distance of errors on a bus, such as '10 ms'. Default: none.", 1);
        var apply = new Option<bool>("--apply") { Description = "Writes the better offsets into the descriptions; nothing else in them changes." };
        var format = CommonOptions.Choice("--format", "How the budget is written", "text", "json", "markdown");
        var command = new Command("budget", "Bus load, worst-case response times, better offsets; 'budget timing': bit timing.\nExample: locum budget projects/depot-loco --capture rest-of-bus.pcapng")
        {
            path, board, captures, layout, jitter, events, errors, apply, format, BudgetTimingCommand.Create(terminal),
        };
        command.SetAction(result =>
        {
            if (result.GetValue(path) is not { } subject)
            {
                terminal.Error.WriteLine("locum: budget needs something to look at");
                terminal.Error.WriteLine("  mend: name a description or a project, or ask for 'locum budget timing'");
                return ExitCode.Unusable;
            }
            var options = new StreamOptions(result.GetValue(jitter), result.GetValue(events) ?? StreamOptions.CustomaryEventsUs);
            return Run(terminal, Session.Open(terminal, subject, result.GetValue(board), null, null), result.GetRequiredValue(captures), result.GetValue(layout),
                options, result.GetValue(errors), result.GetValue(apply), result.GetRequiredValue(format));
        });
        return command;
    }

    private static int Run(Terminal terminal, Session? session, string[] paths, string? layout, StreamOptions options, long? errorsEveryUs, bool apply, string format)
    {
        if (session is null || CaptureInput.Load(terminal, paths, layout) is not { } captures)
            return ExitCode.Unusable;
        if (BudgetInput.Refuse(terminal, session.Plans, captures))
            return ExitCode.Unusable;
        var buses = Budget.Of(session.Plans, BudgetInput.Composed(session), [.. captures.Select(c => c.Recording)], options, errorsEveryUs);
        if (apply && !OffsetWriter.Write(terminal, session, buses))
            return ExitCode.Unusable;
        switch (format)
        {
            case "json":
                BudgetJson.Write(terminal.Stream, buses);
                break;
            case "markdown":
                BudgetMarkdown.Write(terminal.Output, buses);
                break;
            default:
                BudgetText.Write(terminal.Output, buses);
                break;
        }
        terminal.Stream.Flush();
        return buses.All(b => b.Holds) ? ExitCode.Fine : ExitCode.Findings;
    }

    private static Option<long?> Time(string name, string description, long least)
    {
        var option = new Option<long?>(name) { Description = description };
        option.CustomParser = result =>
        {
            if (Quantity.TimeUs(result.Tokens.Count is 1 ? result.Tokens[0].Value : "") is { } time && time >= least)
                return time;
            result.AddError($"{name} takes a time with its unit, such as '10 ms'");
            return null;
        };
        return option;
    }
}
