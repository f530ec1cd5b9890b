namespace Locum.Wire;

/// <summary>The identifier of a classic CAN data frame.</summary>
/// <param name="Value">11 bits, or 29 bits when <paramref name="Extended"/>.</param>
/// <param name="Extended">True for the 29-bit format.</param>
public readonly record struct CanId(uint Value, bool Extended)
{
    /// <summary>The largest 11-bit identifier.</summary>
    public const uint MaxStandard = 0x7FF;

    /// <summary>The largest 29-bit identifier.</summary>
    public const uint MaxExtended = 0x1FFF_FFFF;

    private const int ExtensionBits = 18;

    /// <summary>True when the value fits the format.</summary>
    public bool IsValid => Value <= (Extended ? MaxExtended : MaxStandard);

    /// <summary>
    /// A number that orders data frames as arbitration does: the lower one wins. The 11 base bits stand
    /// first; then one bit that is dominant (0) for the 11-bit format, whose RTR bit meets the recessive
    /// SRR bit of the 29-bit format; then the 18 extension bits. (ISO 11898-1, from memory.)
    /// </summary>
    public uint ArbitrationKey
    {
        get
        {
            if (!Extended)
                return Value << (ExtensionBits + 1);
            uint baseBits = Value >> ExtensionBits;
            uint extension = Value & ((1u << ExtensionBits) - 1);
            return (baseBits << (ExtensionBits + 1)) | (1u << ExtensionBits) | extension;
        }
    }

    /// <summary>Negative when <paramref name="a"/> wins arbitration, positive when it loses, 0 when both are equal.</summary>
    public static int CompareArbitration(CanId a, CanId b) => a.ArbitrationKey.CompareTo(b.ArbitrationKey);

    /// <summary><c>0x2D1</c> for 11 bits, <c>0x18FEF100</c> (always 8 digits) for 29 bits.</summary>
    public override string ToString() => Extended ? $"0x{Value:X8}" : $"0x{Value:X3}";
}
