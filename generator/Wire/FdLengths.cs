namespace Locum.Wire;

/// <summary>
/// The numbers of data bytes a CAN FD frame can have, by data length code (ISO 11898-1:2015, as listed by
/// several open-source CAN libraries).
/// </summary>
public static class FdLengths
{
    /// <summary>The most data bytes of a CAN FD frame.</summary>
    public const int Most = 64;

    /// <summary>Data bytes by data length code 0 to 15.</summary>
    public static IReadOnlyList<int> All { get; } = [0, 1, 2, 3, 4, 5, 6, 7, 8, 12, 16, 20, 24, 32, 48, 64];

    /// <summary>The data length code of a length; null when no code stands for it.</summary>
    public static int? Code(int length)
    {
        for (int code = 0; code < All.Count; code++)
        {
            if (All[code] == length)
                return code;
        }

        return null;
    }

    /// <summary>The shortest usable length that holds so many bytes; 64 when none does.</summary>
    public static int AtLeast(long length) => All.FirstOrDefault(l => l >= length, Most);
}
