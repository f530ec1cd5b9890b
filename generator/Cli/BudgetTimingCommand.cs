using System.CommandLine;
using System.CommandLine.Parsing;
using Locum.Binding;
using Locum.Boards;
using Locum.Budgeting;
using Locum.Diagnostics;
using Locum.Wire;

namespace Locum.Cli;

/// <summary>locum budget timing: bit timing of a board, a project or any controller, with the reasons.</summary>
internal static class BudgetTimingCommand
{
    private static readonly long[] s_usualRates = [125_000, 250_000, 500_000, 1_000_000];

    public static Command Create(Terminal terminal)
    {
        var subject = new Argument<string?>("board") { Description = "A kind of board, or a project or description. Default: every board.", Arity = ArgumentArity.ZeroOrOne };
        var controller = new Option<string?>("--controller") { Description = $"Any controller instead of a board: {string.Join(", ", TimingController.All.Select(c => c.Name))}." };
        var clock = Amount("--clock", "Its clock: crystal, kernel or bus clock, such as '40 MHz'.", Quantity.Frequency, 100_000, 1_000_000_000);
        var rate = Amount("--rate", "Bit rate, such as '500 kbit/s'. Default: the usual ones.", Quantity.Rate, 5_000, 1_000_000);
        var point = Amount("--sample-point", "Wanted sample point, such as '80 %'. Default: 87.5 %.", Quantity.Permille, 500, 950);
        var dataRate = Amount("--data-rate", "Bit rate of CAN FD's data phase, such as '2 Mbit/s'.", Quantity.Rate, 5_000, 8_000_000);
        var dataPoint = Amount("--data-sample-point", "Its wanted sample point. Default: 75 %.", Quantity.Permille, 500, 950);
        var tolerance = Amount("--tolerance", "How far the oscillator may be off, such as '100 ppm'.", Quantity.Ppm, 0, 100_000);
        var format = CommonOptions.Choice("--format", "How timings are written", "text", "json");
        var command = new Command("timing", "Chooses bit timing and says why: segments, registers, what the oscillator may be off.\nExample: locum budget timing --controller fdcan --clock '80 MHz' --rate '500 kbit/s' --data-rate '2 Mbit/s'")
        {
            subject, controller, clock, rate, point, dataRate, dataPoint, tolerance, format,
        };
        command.SetAction(result =>
        {
            var asked = new Asked(result.GetValue(controller), result.GetValue(clock), result.GetValue(rate), (int)(result.GetValue(point) ?? BusBinder.DefaultSamplePoint),
                result.GetValue(dataRate), (int)(result.GetValue(dataPoint) ?? BusBinder.DefaultDataSamplePoint), result.GetValue(tolerance));
            return Run(terminal, result.GetValue(subject), asked, result.GetRequiredValue(format));
        });
        return command;
    }

    private static int Run(Terminal terminal, string? subject, Asked asked, string format)
    {
        if (Lines(terminal, subject, asked) is not { } lines)
            return ExitCode.Unusable;
        if (format is "json")
            TimingJson.Write(terminal.Stream, lines);
        else
            TimingText.Write(terminal.Output, lines);
        terminal.Stream.Flush();
        return lines.All(l => l.Holds) ? ExitCode.Fine : ExitCode.Findings;
    }

    private static List<TimingLine>? Lines(Terminal terminal, string? subject, Asked asked)
    {
        if (asked.Controller is not null || asked.Clock is not null)
            return OfController(terminal, subject, asked);
        if (subject is not null && (File.Exists(subject) || Directory.Exists(subject)))
            return OfProject(terminal, subject, asked);
        if (subject is not null && BoardCatalogue.Find(subject) is null)
            return Refuse(terminal, $"'{Printable.Short(subject)}' is neither a kind of board nor a file", Nearest.Mend(subject, [.. BoardCatalogue.Names], "board"));
        // Some boards leave the segments to a kernel or to the user's own driver.
        var kinds = (subject is null ? BoardCatalogue.Names : [subject]).Select(n => BoardCatalogue.Find(n)!).Where(k => TimingController.Find(k.ControllerKind) is not null).ToList();
        if (subject is not null && kinds.Count is 0)
            return Refuse(terminal, $"{subject} has no bit timing of its own", "name a board with a controller; 'locum boards' lists them");
        return [.. kinds.SelectMany(k => OfKind(k, asked))];
    }

    private static List<TimingLine>? OfController(Terminal terminal, string? subject, Asked asked)
    {
        if (subject is not null)
            return Refuse(terminal, "a board has its controller and clock", "name a board, or --controller and --clock");
        if (asked.Clock is not { } clock || asked.Controller is not { } name)
            return Refuse(terminal, "a controller needs its clock and the other way round", $"give both: --clock '40 MHz' --controller {asked.Controller ?? "fdcan"}");
        return TimingController.Find(name) is not { } controller
            ? Refuse(terminal, $"there is no controller '{Printable.Short(name)}'", Nearest.Mend(name, [.. TimingController.All.Select(c => c.Name)], "controller"))
            : [.. Requests(asked).Select(r => new TimingLine(name, controller, clock, r, asked.Tolerance ?? 100))];
    }

    private static IEnumerable<TimingLine> OfKind(BoardKind kind, Asked asked)
    {
        var clock = kind.ControllerClockHz > 0 ? kind.ControllerClockHz : Quantity.Frequency(kind.Default("crystal", 0)) ?? 0;
        var stated = asked.Tolerance ?? Quantity.Ppm(Planning.TimingPlanner.Tolerance(kind, 0)) ?? 0;
        return Requests(asked).Select(r => new TimingLine(kind.Name, TimingController.Find(kind.TimingKind("", r.DataRate is not null))!, clock, r, stated));
    }

    private static List<TimingLine>? OfProject(Terminal terminal, string path, Asked asked)
    {
        if (Session.Open(terminal, path, null, null, null) is not { } session)
            return null;
        var lines = new List<TimingLine>();
        foreach (var plan in session.Plans)
            foreach (var bus in plan.Buses.Where(b => b.Timing is not null))
            {
                var clock = bus.Settings.TryGetValue("crystal", out var crystal) ? Quantity.Frequency(crystal) ?? 0 : plan.Kind.ControllerClockHz;
                var stated = asked.Tolerance ?? Quantity.Ppm(bus.Settings.GetValueOrDefault("tolerance", "")) ?? Quantity.Ppm(Planning.TimingPlanner.Tolerance(plan.Kind, bus.Index)) ?? 0;
                lines.Add(new TimingLine($"{plan.Name}, bus {bus.Name}", TimingController.Find(plan.Kind.TimingKind(bus.Controller, bus.DataRate is not null))!, clock, new TimingRequest(bus.Rate, bus.SamplePoint, bus.DataRate, bus.DataSamplePoint), stated));
            }
        return lines.Count > 0 ? lines : Refuse(terminal, "no board of the project has a controller with bit timing", "put the modules on a board ('locum boards'); a description alone runs on the PC");
    }

    private static IEnumerable<TimingRequest> Requests(Asked asked) => (asked.Rate is { } one ? [one] : s_usualRates)
        .Where(r => asked.DataRate is null || r <= asked.DataRate)
        .Select(r => new TimingRequest(r, asked.SamplePoint, asked.DataRate, asked.DataSamplePoint));

    private static List<TimingLine>? Refuse(Terminal terminal, string message, string? mend)
    {
        terminal.Error.WriteLine($"locum: {message}");
        terminal.Error.WriteLine($"  mend: {mend}");
        return null;
    }

    private static Option<long?> Amount(string name, string description, Func<string, long?> parse, long least, long most)
    {
        var option = new Option<long?>(name) { Description = description };
        option.CustomParser = result =>
        {
            if (parse(result.Tokens.Count is 1 ? result.Tokens[0].Value : "") is { } value && value >= least && value <= most)
                return value;
            result.AddError($"{name}: {description}");
            return null;
        };
        return option;
    }

    private sealed record Asked(string? Controller, long? Clock, long? Rate, int SamplePoint, long? DataRate, int DataSamplePoint, long? Tolerance);
}
