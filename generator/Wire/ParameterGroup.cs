namespace Locum.Wire;

/// <summary>Numbers of parameter groups in 29-bit identifiers (SAE J1939-21): priority 28..26, pages 25 and 24, format 23..16, destination or extension 15..8, source 7..0.</summary>
public static class ParameterGroup
{
    public const int Most = 0x3FFFF;
    public const int Acknowledgement = 0x0E800;
    public const int Request = 0x0EA00;
    public const int Packets = 0x0EB00;
    public const int Connection = 0x0EC00;
    public const int AddressClaimed = 0x0EE00;

    /// <summary>Identifier bits that say group, destination and pages, but neither priority nor source.</summary>
    public const uint AnySourceMask = 0x03FF_FF00;

    /// <summary>The same with the source.</summary>
    public const uint AnyPriorityMask = 0x03FF_FFFF;

    private const int FirstBroadcast = 0xF0;

    /// <summary>True if the group goes to a destination, which stands in place of its lowest byte.</summary>
    public static bool HasDestination(int group) => (group >> 8 & 0xFF) < FirstBroadcast;

    /// <summary>The group of a frame with this identifier.</summary>
    public static int Of(CanId id)
    {
        var group = (int)(id.Value >> 8) & Most;
        return HasDestination(group) ? group & ~0xFF : group;
    }

    /// <summary>The identifier of a group that goes to a destination.</summary>
    public static CanId To(int group, byte destination, byte source, int priority = 6) =>
        new((uint)priority << 26 | (uint)group << 8 | (uint)destination << 8 | source, true);

    /// <summary>The identifier of a group that goes to everybody.</summary>
    public static CanId Broadcast(int group, byte source, int priority = 6) => new((uint)priority << 26 | (uint)group << 8 | source, true);
}
