namespace Locum.Wire;

/// <summary>
/// Transmitter delay compensation of CAN FD: a transmitter checks its own bits of the data phase at a second sample
/// point, measured loop delay + offset behind the start of the bit.
/// </summary>
/// <param name="Offset">Clock periods in front of the prescaler.</param>
/// <param name="Reason">Why it is on.</param>
public sealed record DelayCompensation(int Offset, string Reason)
{
    /// <summary>The longest loop delay of a transceiver (ISO 11898-2:2016, from memory).</summary>
    public const double LoopDelayNs = 255;

    // Common practice (no source): on above 1 Mbit/s even where the loop delay would just fit, for the
    // asymmetry of transceivers takes part of what is left.
    private const int CustomaryAboveRate = 1_000_000;

    /// <summary>True when the loop delay does not end before the sample point, so that a transmitter would see its own bit wrongly.</summary>
    public static bool IsNeeded(BitTiming data, double loopDelayNs = LoopDelayNs) => SamplePointNs(data) <= loopDelayNs;

    /// <summary>
    /// The compensation of a data phase; null when it stays off. The offset puts the second sample point as far behind
    /// the delayed start of the bit as the sample point lies behind the start: BRP · (1 + TSEG1) clock periods, or the
    /// most that the register holds.
    /// </summary>
    /// <param name="data">Timing of the data phase.</param>
    /// <param name="rate">Data rate, bit/s.</param>
    /// <param name="limits">The controller.</param>
    /// <param name="loopDelayNs">From the controller's output through the transceiver back to its input.</param>
    public static DelayCompensation? For(BitTiming data, long rate, CompensationLimits limits, double loopDelayNs = LoopDelayNs)
    {
        var needed = IsNeeded(data, loopDelayNs);
        if ((!needed && rate <= CustomaryAboveRate) || data.Brp > CompensationLimits.MostPrescaler)
            return null;
        var offset = Math.Min(data.Brp * (1 + data.Tseg1), limits.OffsetMax);
        if (LoopDelayClocks(data, loopDelayNs) + offset > limits.SumMax)
            return null;
        var point = $"the sample point lies {SamplePointNs(data):0.#} ns into the bit, the loop delay is up to {loopDelayNs:0.#} ns";
        return new DelayCompensation(offset, needed ? point : $"customary above 1 Mbit/s; {point}");
    }

    /// <summary>From the start of a bit to its sample point, ns.</summary>
    public static double SamplePointNs(BitTiming data) => 1e9 * data.Brp * (1 + data.Tseg1) / data.ClockHz;

    private static int LoopDelayClocks(BitTiming data, double loopDelayNs) => (int)Math.Ceiling(loopDelayNs * data.ClockHz / 1e9);
}
