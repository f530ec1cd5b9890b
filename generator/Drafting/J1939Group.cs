using Locum.Wire;

namespace Locum.Drafting;

/// <summary>What a 29-bit identifier says if it is one of SAE J1939 (layout of J1939-21; names and periods from memory).</summary>
/// <param name="Number">Parameter group number.</param>
/// <param name="Source">Source address.</param>
/// <param name="Name">Short name of the group; null when it is not in the table.</param>
/// <param name="PeriodUs">Its usual period, microseconds; 0 when it varies.</param>
internal readonly record struct J1939Group(uint Number, byte Source, string? Name, long PeriodUs)
{
    private const uint FirstBroadcast = 240;

    private static readonly Dictionary<uint, (string Name, long PeriodUs)> s_known = new()
    {
        [0] = ("TSC1", 0),
        [59904] = ("Request", 0),
        [60928] = ("Address Claimed", 0),
        [61441] = ("EBC1", 100_000),
        [61442] = ("ETC1", 10_000),
        [61443] = ("EEC2", 50_000),
        [61444] = ("EEC1", 0),
        [65132] = ("TCO1", 50_000),
        [65226] = ("DM1", 1_000_000),
        [65262] = ("ET1", 1_000_000),
        [65263] = ("EFL/P1", 500_000),
        [65265] = ("CCVS", 100_000),
        [65266] = ("LFE", 100_000),
        [65269] = ("AMB", 1_000_000),
    };

    /// <summary>Reads an identifier; null for 11 bits.</summary>
    public static J1939Group? Of(CanId id)
    {
        if (!id.Extended)
            return null;
        uint format = id.Value >> 16 & 0xFF;
        uint page = id.Value >> 24 & 3;
        uint number = (page << 16) | (format << 8) | (format >= FirstBroadcast ? id.Value >> 8 & 0xFF : 0);
        var (name, period) = s_known.TryGetValue(number, out var known) ? known : (null, 0);
        return new J1939Group(number, (byte)id.Value, name, period);
    }

    /// <summary>A line for people.</summary>
    public override string ToString()
    {
        string name = Name is null ? "" : $" ({Name})";
        string period = PeriodUs > 0 ? $", usually every {DraftWords.Time(PeriodUs)}" : "";
        return DraftWords.Text($"if SAE J1939: group {Number}{name} from address {Source}{period}");
    }
}
