namespace Locum.Inference.Checksums;

/// <summary>Splits payloads by a counter's value, or by its lowest bit.</summary>
/// <param name="Counter">The counter, 4 bits.</param>
/// <param name="ByParity">By even and odd values only.</param>
internal sealed record CounterClasses(ChecksumPlace Counter, bool ByParity)
{
    /// <summary>Number of classes.</summary>
    public int Count => ByParity ? 2 : 1 << Counter.Bits;

    /// <summary>The class of a payload.</summary>
    public int Of(ReadOnlySpan<byte> payload) => (int)Counter.Read(payload) & (Count - 1);
}
