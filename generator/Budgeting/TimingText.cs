using Locum.Diagnostics;
using Locum.Wire;

namespace Locum.Budgeting;

/// <summary>Bit timings for people, 80 columns.</summary>
public static class TimingText
{
    public static void Write(TextWriter writer, IReadOnlyList<TimingLine> lines)
    {
        foreach (var (line, i) in lines.Select((l, i) => (l, i)))
        {
            if (i > 0)
                writer.WriteLine();
            Write(writer, line);
        }
    }

    private static void Write(TextWriter writer, TimingLine line)
    {
        writer.WriteLine($"{Printable.Clean(line.Title)}: {Rate(line.Request.Rate)}{(line.Request.DataRate is { } fast ? $" and {Rate(fast)}" : "")}");
        writer.WriteLine($"  {line.Controller.Summary}, {line.Controller.ClockName} {line.ClockHz / 1e6:0.######} MHz, off by up to {line.TolerancePpm} ppm");
        if (line.Choice is not { } choice)
        {
            writer.WriteLine(line.Request.DataRate is not null && !line.Controller.Fd ? "  REFUSED: a classic controller has no data phase" : "  REFUSED: this clock cannot make the rate within 0.1 %");
            return;
        }
        Phase(writer, choice.Data is null ? "" : "arbitration phase: ", choice.Nominal, line.Controller.Limits(line.ClockHz), line.Request.Rate, line.Request.SamplePoint, line.Others(false));
        if (choice.Data is { } data)
        {
            Phase(writer, "data phase: ", data, line.Controller.DataLimits!(line.ClockHz), line.Request.DataRate!.Value, line.Request.DataSamplePoint, line.Others(true));
            Compensation(writer, choice, data, line.Request);
        }
        writer.WriteLine($"  registers: {string.Join(", ", line.Controller.Encode(choice))}");
        Tolerance(writer, line, choice);
    }

    private static void Phase(TextWriter writer, string name, BitTiming timing, BitTimingLimits limits, long rate, int point, IReadOnlyList<(BitTiming Timing, string Why)> others)
    {
        var quantum = 1e9 * timing.Brp / timing.ClockHz;
        var phase1 = limits.PhaseSegment1(timing.Tseg1, timing.Tseg2);
        writer.WriteLine($"  {name}BRP {timing.Brp}, {timing.Quanta} quanta of {quantum:0.###} ns = 1 + {timing.Tseg1} + {timing.Tseg2}, SJW {timing.Sjw}");
        writer.WriteLine($"    rate {Error(timing, rate)}, sample point {timing.SamplePointPermille / 10:0.##} % (wanted {point / 10.0:0.#} %)");
        writer.WriteLine($"    propagation {(timing.Tseg1 - phase1) * quantum:0.#} ns, phase segments {phase1 * quantum:0.#} and {timing.Tseg2 * quantum:0.#} ns");
        foreach (var (other, why) in others)
            writer.WriteLine($"    not BRP {other.Brp,-3} {$"1 + {other.Tseg1} + {other.Tseg2}",-12} {why}");
    }

    private static void Compensation(TextWriter writer, TimingChoice choice, BitTiming data, TimingRequest request)
    {
        var needed = DelayCompensation.IsNeeded(data, request.LoopDelayNs);
        if (choice.Compensation is { } on)
        {
            writer.WriteLine($"  delay compensation: on, offset {on.Offset} clocks = {1e9 * on.Offset / data.ClockHz:0.#} ns");
            writer.WriteLine($"    {(needed ? "needed" : "customary above 1 Mbit/s")}: sample point {DelayCompensation.SamplePointNs(data):0.#} ns into the bit, loop delay up to {request.LoopDelayNs:0.#} ns");
        }
        else
        {
            writer.WriteLine(needed ? "  REFUSED: delay compensation is needed and impossible (BRP above 2, or out of range)" : "  delay compensation: off, the loop delay ends before the sample point");
        }
    }

    private static void Tolerance(TextWriter writer, TimingLine line, TimingChoice choice)
    {
        var left = choice.LeftForOscillatorPpm(line.Request);
        writer.WriteLine($"  every node's clock may be off by {choice.AllowedPpm:0} ppm:");
        foreach (var condition in choice.Conditions)
            writer.WriteLine($"    {condition.Ppm,6:0} ppm  {condition.Name}");
        writer.WriteLine(line.TolerancePpm <= left
            ? $"    {left:0} ppm are left to the oscillator, {line.TolerancePpm} ppm are stated: enough"
            : $"    REFUSED: {Math.Max(0, left):0} ppm are left to the oscillator, {line.TolerancePpm} ppm are stated");
    }

    private static string Rate(long rate) => rate % 1_000_000 is 0 ? $"{rate / 1_000_000} Mbit/s" : $"{rate / 1000.0:0.###} kbit/s";

    private static string Error(BitTiming timing, long rate) => timing.IsExact(rate) ? "exact" : $"{timing.Rate:0.##} bit/s, off by {timing.RateErrorPpm(rate):+0.#;-0.#} ppm";
}
