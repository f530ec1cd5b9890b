using Locum.Binding;
using Locum.Boards;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Text;
using Locum.Wire;

namespace Locum.Planning;

/// <summary>The bit timing of a board's bus, or why the board cannot have it.</summary>
public static class TimingPlanner
{
    private const int SamplePointSlack = 50;

    // A crystal with its temperature range and ageing; common practice, no source.
    private const string CustomaryTolerance = "100 ppm";

    /// <summary>How far the oscillator of a board's bus may be off when project.yaml is silent.</summary>
    public static string Tolerance(BoardKind kind, int index) => kind.Default("tolerance", index) is { Length: > 0 } stated ? stated : CustomaryTolerance;

    internal static TimingChoice? Plan(Bus bus, Dictionary<string, string> settings, string controllerWord, IReadOnlyDictionary<string, Setting> given, BoardUse use, BoardKind kind, DiagnosticBag diagnostics)
    {
        var controller = TimingController.Find(kind.TimingKind(controllerWord, bus.DataRate is not null)) ?? throw new InvalidOperationException($"the board {kind.Name} has a controller without bit timing: {kind.ControllerKind}");
        var clock = Clock(settings, given, use, kind, diagnostics);
        var tolerance = Ppm(settings.GetValueOrDefault("tolerance") is { Length: > 0 } stated ? stated : Tolerance(kind, 0), given, use, diagnostics);
        if (clock is null || (bus.DataRate is not null && !controller.Fd))
            return null;
        var request = new TimingRequest(bus.Rate, bus.SamplePoint, bus.DataRate, bus.DataSamplePoint);
        var choice = TimingSolver.Solve(controller, clock.Value, request);
        if (choice is null)
        {
            diagnostics.Add(Codes.NoTiming, bus.Span, $"{kind.Name} cannot make {Rates(bus)} from its {controller.Limits(clock.Value).ClockHz / 1e6:0.###} MHz CAN clock", "correct the bit rate, or use a controller with another crystal");
            return null;
        }
        CheckSamplePoint(choice.Nominal, bus.SamplePoint, "", bus, kind, diagnostics);
        if (choice.Data is { } data)
        {
            CheckSamplePoint(data, bus.DataSamplePoint, "data ", bus, kind, diagnostics);
            if (choice.Compensation is null && DelayCompensation.IsNeeded(data))
                diagnostics.Add(Codes.NoTiming, bus.Span, $"at {bus.DataRate} bit/s {kind.Name} would read its own bits {DelayCompensation.SamplePointNs(data):0} ns after it sent them, a transceiver takes up to {DelayCompensation.LoopDelayNs:0} ns, and no delay compensation is possible with this clock", "lower the data rate, or use a controller with another clock");
        }
        CheckTolerance(choice, request, tolerance, bus, given, use, kind, diagnostics);
        return choice;
    }

    private static long? Clock(Dictionary<string, string> settings, IReadOnlyDictionary<string, Setting> given, BoardUse use, BoardKind kind, DiagnosticBag diagnostics)
    {
        if (!settings.TryGetValue("crystal", out var text))
            return kind.ControllerClockHz;
        if (Quantity.Frequency(text) is >= 1_000_000 and <= 40_000_000 and var crystal)
            return crystal;
        diagnostics.Add(Codes.BadUnit, given.GetValueOrDefault("crystal")?.Span ?? use.Span, $"'{Printable.Short(text)}' is not the frequency of a crystal", "write it like 'crystal: 8 MHz' (1 to 40 MHz)");
        return null;
    }

    private static long? Ppm(string text, IReadOnlyDictionary<string, Setting> given, BoardUse use, DiagnosticBag diagnostics)
    {
        if (Quantity.Ppm(text) is >= 0 and <= 100_000 and var ppm)
            return ppm;
        diagnostics.Add(Codes.BadUnit, given.GetValueOrDefault("tolerance")?.Span ?? use.Span, $"'{Printable.Short(text)}' is not the tolerance of an oscillator", "write it like 'tolerance: 100 ppm' or 'tolerance: 0.5 %' (up to 10 %)");
        return null;
    }

    private static string Rates(Bus bus) => bus.DataRate is { } data ? $"{bus.Rate} bit/s with {data} bit/s in the data phase" : $"{bus.Rate} bit/s";

    private static void CheckSamplePoint(BitTiming timing, int wanted, string phase, Bus bus, BoardKind kind, DiagnosticBag diagnostics)
    {
        if (Math.Abs(timing.SamplePointPermille - wanted) > SamplePointSlack)
            diagnostics.Add(Codes.SamplePointOff, bus.Span, $"on {kind.Name} the {phase}sample point of '{bus.Name}' is {timing.SamplePointPermille / 10.0:0.#} %, {wanted / 10.0:0.#} % was asked for", "accept it on a short bus, or use a controller with another clock");
    }

    private static void CheckTolerance(TimingChoice choice, TimingRequest request, long? tolerance, Bus bus, IReadOnlyDictionary<string, Setting> given, BoardUse use, BoardKind kind, DiagnosticBag diagnostics)
    {
        var left = choice.LeftForOscillatorPpm(request);
        if (tolerance is not { } stated || stated <= left)
            return;
        var tightest = choice.Conditions.MinBy(c => c.Ppm)!;
        diagnostics.Add(Codes.ClockTolerance, given.GetValueOrDefault("tolerance")?.Span ?? use.Span,
            $"the oscillator of '{bus.Name}' may be off by {stated} ppm, {Math.Max(0, Math.Floor(left)):0} ppm are left to it on {kind.Name} at {Rates(bus)} (the bound is {tightest.Name}: {tightest.Formula})",
            "use a crystal and say how good it is ('tolerance: 100 ppm'), or an earlier sample point", bus.Span);
    }
}
