using System.CommandLine;
using Locum.Binding;
using Locum.Budgeting;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Simulation;

namespace Locum.Cli;

/// <summary>locum budget: what buses have left.</summary>
internal static class BudgetCommand
{
    private const long AwakeUs = 10_000_000;

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
        if (captures.FirstOrDefault(c => c.Recording.FrameCount is 0 || !c.Summary.HasTime) is { } useless)
        {
            terminal.Error.WriteLine($"locum: '{Printable.Clean(useless.Path)}' has {(useless.Recording.FrameCount is 0 ? "no frames" : "no times, without which no load is known")}");
            terminal.Error.WriteLine("  mend: record it again, with times; 'locum read' tells what it holds");
            return ExitCode.Unusable;
        }
        if (Budget.Strange(session.Plans, captures.Select(c => c.Recording)) is [var strange, ..])
        {
            terminal.Error.WriteLine($"locum: '{Printable.Clean(captures.First(c => c.Recording == strange).Path)}' has none of the boards' buses, its own are {string.Join(", ", strange.Buses.Select(Printable.Short))}");
            terminal.Error.WriteLine($"  mend: name its bus as the descriptions do ({string.Join(", ", session.Plans.SelectMany(p => p.Buses).Select(b => b.Name).Distinct())}), with 'bus' in a layout or when recording");
            return ExitCode.Unusable;
        }
        var buses = Budget.Of(session.Plans, Composed(session), [.. captures.Select(c => c.Recording)], options, errorsEveryUs);
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

    // Each board by itself: only what it composes matters here. Without a stimulus all inputs are active, which wakes most modules.
    private static ComposedTimes Composed(Session session) => ComposedTimes.Of(session.Plans, session.Plans.Select(p => Simulator.Run([p], session.StimulusFor(p) is { } s && s != Stimulus.Quiet ? s : Awake(p))));

    private static Stimulus Awake(BoardPlan plan) => new() { EndUs = AwakeUs, Inputs = [.. plan.Inputs.Select(i => new InputChange(0, i.Name, true))] };

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
