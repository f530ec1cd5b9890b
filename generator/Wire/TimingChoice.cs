namespace Locum.Wire;

/// <summary>Bit timing of both phases.</summary>
/// <param name="Nominal">Arbitration phase.</param>
/// <param name="Data">Data phase; null on a classic bus.</param>
/// <param name="Compensation">Of the transmitter's delay; null when it stays off.</param>
/// <param name="Conditions">What the timing asks of every node's clock.</param>
public sealed record TimingChoice(BitTiming Nominal, BitTiming? Data, DelayCompensation? Compensation, IReadOnlyList<ToleranceCondition> Conditions)
{
    /// <summary>How far the clock of every node may be off, ppm in either direction.</summary>
    public double AllowedPpm => ClockTolerance.Allowed(Conditions);

    /// <summary>What of that is left to the oscillator itself: the error of the rate takes its part.</summary>
    public double LeftForOscillatorPpm(TimingRequest request) =>
        AllowedPpm - Math.Max(Math.Abs(Nominal.RateErrorPpm(request.Rate)), Data is null ? 0 : Math.Abs(Data.RateErrorPpm(request.DataRate!.Value)));
}
