namespace Locum.Protection;

/// <summary>
/// What is fixed about a profile of AUTOSAR's end-to-end protection (PRS_E2EProtocol). Layouts and CRC orders as
/// in open-source implementations whose published results the tests repeat; limits and variant letters from memory.
/// </summary>
/// <param name="Kind">Layout.</param>
/// <param name="Name">As descriptions write it: the profile's number and the variant's letter.</param>
/// <param name="Header">Bytes the profile takes from the payload.</param>
/// <param name="Most">The longest payload it protects, bytes; CAN FD ends at 64.</param>
/// <param name="LastCounter">The counter runs from 0 to this value.</param>
/// <param name="FirstCounter">The counter of the first frame: profiles 2 and 22 count before they send, the others behind.</param>
/// <param name="IdBits">Width of the data ID; 0 when there is a list of 16 bytes instead, one for each counter value.</param>
/// <param name="Crc">Name of the CRC in the catalogue.</param>
public sealed record E2EProfile(E2EKind Kind, string Name, int Header, int Most, uint LastCounter, uint FirstCounter, int IdBits, string Crc)
{
    public const int ListLength = 16;

    private const string Crc8 = "crc8-sae-j1850-zero";

    /// <summary>All profiles. "1 low" is the variant of profile 1 that mixes in the low byte only; it has no letter.</summary>
    public static IReadOnlyList<E2EProfile> All { get; } =
    [
        new(E2EKind.BothBytes, "1A", 2, 30, 14, 0, 16, Crc8),
        new(E2EKind.Alternating, "1B", 2, 30, 14, 0, 16, Crc8),
        new(E2EKind.Nibble, "1C", 2, 30, 14, 0, 12, Crc8),
        new(E2EKind.LowByte, "1 low", 2, 30, 14, 0, 16, Crc8),
        new(E2EKind.List, "2", 2, 32, 15, 1, 0, "crc8-autosar"),
        new(E2EKind.Profile4, "4", 12, 64, 0xFFFF, 0, 32, "crc32-autosar"),
        new(E2EKind.Profile5, "5", 3, 64, 0xFF, 0, 16, "crc16-ibm-3740"),
        new(E2EKind.Profile6, "6", 5, 64, 0xFF, 0, 16, "crc16-ibm-3740"),
        new(E2EKind.Profile7, "7", 20, 64, uint.MaxValue, 0, 32, "crc64-xz"),
        new(E2EKind.BothBytes, "11A", 2, 30, 14, 0, 16, Crc8),
        new(E2EKind.Nibble, "11C", 2, 30, 14, 0, 12, Crc8),
        new(E2EKind.List, "22", 2, 32, 15, 1, 0, "crc8-autosar"),
    ];

    /// <summary>The profile of that name, or null.</summary>
    public static E2EProfile? Find(string name) => All.FirstOrDefault(p => p.Name == name);
}

/// <summary>Layouts; profiles 1 and 11, and 2 and 22, share theirs.</summary>
public enum E2EKind
{
    /// <summary>CRC-8, 4-bit counter; both bytes of the ID go into the CRC.</summary>
    BothBytes,

    /// <summary>The ID's low byte with even counters, its high byte with odd ones.</summary>
    Alternating,

    /// <summary>The ID's low byte and a zero byte; the low nibble of its high byte is sent.</summary>
    Nibble,

    /// <summary>The ID's low byte.</summary>
    LowByte,

    /// <summary>CRC-8, 4-bit counter that chooses one of 16 IDs.</summary>
    List,

    /// <summary>Length, counter, ID, CRC-32, highest byte first.</summary>
    Profile4,

    /// <summary>CRC-16 lowest byte first, counter.</summary>
    Profile5,

    /// <summary>CRC-16, length, highest byte first, counter.</summary>
    Profile6,

    /// <summary>CRC-64, length, counter, ID, highest byte first.</summary>
    Profile7,
}
