namespace Locum.Inference.Buses;

/// <summary>What a recording shows of a bus.</summary>
public sealed record BusFinding
{
    /// <summary>Number in the recording.</summary>
    public required int Bus { get; init; }

    /// <summary>Name in the recording.</summary>
    public required string Name { get; init; }

    /// <summary>Frames on it.</summary>
    public required long Frames { get; init; }

    /// <summary>Bits per second on the wire, on average; CAN FD data phases count as if they were sent at the bit rate.</summary>
    public required double BitsPerSecond { get; init; }

    /// <summary>The bit rate that frames right behind one another show, bit/s; null when time stamps do not tell.</summary>
    public int? SeenRate { get; init; }

    /// <summary>Frames that show it.</summary>
    public Evidence Evidence { get; init; }

    /// <summary>CAN FD frames were seen.</summary>
    public bool HasFd { get; init; }
}
