using Locum.Wire;

namespace Locum.Budgeting;

/// <summary>A bus on a controller: what was chosen, and from what.</summary>
/// <param name="Title">Board and bus, or controller, for people.</param>
/// <param name="Controller">Family of the controller.</param>
/// <param name="ClockHz">Its clock.</param>
/// <param name="Request">The bus.</param>
/// <param name="TolerancePpm">How far the oscillator may be off.</param>
public sealed record TimingLine(string Title, TimingController Controller, long ClockHz, TimingRequest Request, long TolerancePpm)
{
    private const int MostAlternatives = 6;

    /// <summary>Null when the controller cannot make the rates.</summary>
    public TimingChoice? Choice { get; } = TimingSolver.Solve(Controller, ClockHz, Request);

    /// <summary>True when clock and controller can hold the bus.</summary>
    public bool Holds => Choice is { } choice && TolerancePpm <= choice.LeftForOscillatorPpm(Request)
        && (choice.Data is null || choice.Compensation is not null || !DelayCompensation.IsNeeded(choice.Data, Request.LoopDelayNs));

    /// <summary>The best timings with other prescalers, best first, each with why it was not taken.</summary>
    public IReadOnlyList<(BitTiming Timing, string Why)> Others(bool data)
    {
        if (Choice is null || (data && Choice.Data is null))
            return [];
        var limits = data ? Controller.DataLimits!(ClockHz) : Controller.Limits(ClockHz);
        var (rate, point) = data ? (Request.DataRate!.Value, Request.DataSamplePoint) : (Request.Rate, Request.SamplePoint);
        var chosen = data ? Choice.Data! : Choice.Nominal;
        var quanta = data ? int.MaxValue : TimingSolver.Preferred(limits);
        return [.. BitTimingSolver.Alternatives(limits, rate, point, preferredQuanta: quanta).Where(t => t.Brp != chosen.Brp).Take(MostAlternatives).Select(t => (t, Why(t, chosen, rate, point, quanta)))];
    }

    private static string Why(BitTiming other, BitTiming chosen, long rate, int point, int quanta)
    {
        var error = Math.Abs(other.RateErrorPpm(rate));
        if (error > Math.Abs(chosen.RateErrorPpm(rate)) + 1e-6)
            return $"the rate is off by {error:0.#} ppm";
        if (Math.Abs(other.SamplePointPermille - point) > Math.Abs(chosen.SamplePointPermille - point) + 1e-6)
            return $"the sample point misses by {Math.Abs(other.SamplePointPermille - point) / 10:0.##} %";
        if (Math.Abs((long)other.Quanta - quanta) > Math.Abs((long)chosen.Quanta - quanta))
            return quanta is int.MaxValue ? $"{other.Quanta} quanta are coarser" : $"{other.Quanta} quanta lie farther from the {quanta} preferred";
        return "the other phase has the prescaler that was chosen";
    }
}
