namespace Locum.Wire;

/// <summary>
/// Acceptance filter of the TWAI driver (ESP-IDF Programming Guide, "Two-Wire Automotive Interface", and the
/// driver's public header).
/// </summary>
public static class TwaiSettings
{
    private const int StandardShift = 21;
    private const int ExtendedShift = 3;

    /// <summary>
    /// Code and mask (1: any) of the single filter that passes at least what the patterns match. An 11-bit identifier is compared
    /// with bits 31 to 21, a 29-bit one with bits 31 to 3; which of both a frame has is not. Without patterns all bits are compared with 1.
    /// </summary>
    public static (uint Code, uint Mask) Filter(IEnumerable<IdPattern> patterns)
    {
        (uint Code, uint Cared)? joined = null;
        foreach (var pattern in patterns)
        {
            var shift = pattern.Id.Extended ? ExtendedShift : StandardShift;
            var (code, cared) = ((pattern.Id.Value & pattern.Mask) << shift, pattern.Mask << shift);
            if (joined is { } known)
                cared &= known.Cared & ~(known.Code ^ code);
            joined = (code & cared, cared);
        }
        return joined is { } found ? (found.Code, ~found.Cared) : (uint.MaxValue, 0);
    }
}
