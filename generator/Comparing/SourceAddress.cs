using Locum.Wire;

namespace Locum.Comparing;

/// <summary>A source address of 29-bit identifiers as in SAE J1939 and NMEA 2000.</summary>
/// <param name="Address">The lowest byte of the identifiers.</param>
/// <param name="Missing">Its identifiers that only come with the module.</param>
/// <param name="All">How many of its identifiers come with the module.</param>
/// <param name="After">How many come without it.</param>
public sealed record SourceAddress(string Bus, byte Address, IReadOnlyList<CanId> Missing, int All, int After)
{
    /// <summary>All of it is gone: a strong sign that the address was the module's.</summary>
    public bool IsGone => After is 0 && Missing.Count == All;

    /// <summary>Priority, parameter group and source address of a 29-bit identifier (J1939-21, from memory).</summary>
    public static (int Priority, int Group, byte Address) Parts(uint id)
    {
        var format = (int)(id >> 16 & 0xFF);
        var page = (int)(id >> 24 & 3) << 16;
        // Below 240 the next byte is a destination and no part of the group's number.
        var group = page | format << 8 | (format < 240 ? 0 : (int)(id >> 8 & 0xFF));
        return ((int)(id >> 26 & 7), group, (byte)id);
    }
}
