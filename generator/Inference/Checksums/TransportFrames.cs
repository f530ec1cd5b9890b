namespace Locum.Inference.Checksums;

/// <summary>
/// Recognises segments of transport protocols, whose sequence number looks like part of a checksum: ISO 15765-2
/// consecutive frames (first byte 20..2F hexadecimal, counting) and the data transfer of SAE J1939-21 (PF EB, with its
/// connection management EC).
/// </summary>
internal static class TransportFrames
{
    private const int ConsecutiveKind = 2;
    private const int LastKind = 3;
    private const double LeastShare = 0.2;
    private const double LeastCounting = 0.8;

    /// <summary>True when the frames look like segments.</summary>
    public static bool Are(PayloadSet set, Wire.CanId id)
    {
        if (id.Extended && ((id.Value >> 16) & 0xFF) is 0xEB or 0xEC)
            return true;
        int consecutive = 0;
        int steps = 0;
        int counting = 0;
        int previous = -1;
        foreach (int i in set.Beginning)
        {
            int first = set[i][0];
            int kind = first >> 4;
            if (kind > LastKind)
                return false;
            if (kind is not ConsecutiveKind)
            {
                previous = -1;
                continue;
            }

            consecutive++;
            if (previous >= 0)
            {
                steps++;
                counting += ((previous + 1) & 0xF) == (first & 0xF) ? 1 : 0;
            }

            previous = first & 0xF;
        }

        return consecutive >= LeastShare * set.Beginning.Length && steps > 0 && counting >= LeastCounting * steps;
    }
}
