namespace Locum.Wire;

/// <summary>Length of a frame, SOF to the last bit of EOF, by the rate at which its bits are sent.</summary>
/// <param name="Nominal">Bits at the bus' bit rate.</param>
/// <param name="Fast">Bits at the data rate; 0 unless the frame switches.</param>
public readonly record struct WireLength(int Nominal, int Fast)
{
    /// <summary>Exact length with stuff bits.</summary>
    /// <exception cref="ArgumentException">The identifier or the number of data bytes does not fit the format.</exception>
    public static WireLength Of(CanId id, FrameFormat format, ReadOnlySpan<byte> data) => format is FrameFormat.Classic
        ? new WireLength(FrameLength.Bits(id, data), 0)
        : FdFrameLength.Of(id, data, format is FrameFormat.FdSwitched);

    /// <summary>A length that no frame of this kind exceeds.</summary>
    /// <param name="format">Classic or CAN FD.</param>
    /// <param name="extended">True for 29-bit identifiers.</param>
    /// <param name="length">Data bytes.</param>
    public static WireLength Maximum(FrameFormat format, bool extended, int length) => format is FrameFormat.Classic
        ? new WireLength(FrameLength.MaximumBits(extended, length), 0)
        : FdFrameLength.Maximum(extended, length, format is FrameFormat.FdSwitched);

    /// <summary>The same frame with the intermission that follows it, which is always at the bus' bit rate.</summary>
    public WireLength WithIntermission => this with { Nominal = Nominal + FrameLength.IntermissionBits };

    /// <summary>Duration in microseconds, rounded up once: ceil(10^6 · (nominal / rate + fast / data rate)).</summary>
    /// <param name="rate">Bit/s, above 0.</param>
    /// <param name="dataRate">Bit/s, above 0; null on a classic bus.</param>
    public long TimeUs(long rate, long? dataRate)
    {
        long data = dataRate ?? rate;
        long both = rate * data;
        return ((((Nominal * data) + (Fast * rate)) * 1_000_000) + both - 1) / both;
    }
}
