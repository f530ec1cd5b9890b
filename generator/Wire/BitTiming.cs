namespace Locum.Wire;

/// <summary>
/// The length of a CAN bit: one quantum of synchronisation, then <see cref="Tseg1"/> (propagation and phase
/// segment 1), the sample point, and <see cref="Tseg2"/> (phase segment 2).
/// </summary>
/// <param name="ClockHz">Clock of the controller's bit timing in front of the prescaler.</param>
/// <param name="Brp">Prescaler as a factor, not as the register's field.</param>
/// <param name="Tseg1">Quanta between synchronisation and sample point.</param>
/// <param name="Tseg2">Quanta behind the sample point.</param>
/// <param name="Sjw">Resynchronisation jump width in quanta.</param>
public sealed record BitTiming(long ClockHz, int Brp, int Tseg1, int Tseg2, int Sjw)
{
    /// <summary>Quanta per bit.</summary>
    public int Quanta => 1 + Tseg1 + Tseg2;

    /// <summary>The rate this timing makes, bit/s.</summary>
    public double Rate => (double)ClockHz / ((long)Brp * Quanta);

    /// <summary>Place of the sample point in the bit, in thousandths.</summary>
    public double SamplePointPermille => 1000.0 * (1 + Tseg1) / Quanta;

    /// <summary>True when the timing makes exactly this rate.</summary>
    /// <param name="rate">Bit/s.</param>
    public bool IsExact(long rate) => rate * Brp * Quanta == ClockHz;

    /// <summary>How far the made rate lies from the wanted one; positive when it is too fast.</summary>
    /// <param name="rate">Wanted bit/s.</param>
    public double RateErrorPpm(long rate) => 1e6 * (Rate - rate) / rate;
}
