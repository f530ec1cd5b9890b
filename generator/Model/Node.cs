using Locum.Text;

namespace Locum.Model;

/// <summary>A node of an SAE J1939 network: an address that the module claims, and the requests that it answers (J1939-21, J1939-81).</summary>
public sealed record Node
{
    public const byte LastAddress = 253;

    /// <summary>The source of those who have no address.</summary>
    public const byte Nobody = 254;

    /// <summary>The destination that means every node.</summary>
    public const byte Everybody = 255;

    /// <summary>The longest answer: 255 packets of 7 bytes.</summary>
    public const int LongestAnswer = 1_785;

    /// <summary>The longest answer that is one frame.</summary>
    public const int LongestShort = 8;

    public required string Name { get; init; }

    /// <summary>Index of the node's row in the module's list of frames.</summary>
    public required int Frame { get; init; }

    /// <summary>Index of requests to the node alone in the module's list of received frames.</summary>
    public required int Request { get; init; }

    /// <summary>Index of requests to everybody.</summary>
    public required int RequestToAll { get; init; }

    /// <summary>Index of claims of the node's address by others.</summary>
    public required int Claim { get; init; }

    /// <summary>Index of what receivers of long answers say; null when there are no long answers.</summary>
    public required int? Connection { get; init; }

    public required byte Address { get; init; }

    /// <summary>The NAME; its lowest byte is sent first.</summary>
    public required ulong NameValue { get; init; }

    /// <summary>Distance between the packets of an answer to everybody, µs.</summary>
    public required long SpacingUs { get; init; }

    public required IReadOnlyList<GroupAnswer> Answers { get; init; }

    public required Span Span { get; init; }

    /// <summary>The NAME as it is sent: 8 bytes, the lowest first.</summary>
    public byte[] NameBytes() => [.. Enumerable.Range(0, sizeof(ulong)).Select(i => (byte)(NameValue >> (8 * i)))];

    /// <summary>True if another frame of the module carries the node's address as its source.</summary>
    public bool Carries(Frame frame, int bus) => !frame.IsNode && frame.Bus == bus && frame.Id.Extended && (byte)frame.Id.Value == Address;
}

/// <summary>What is sent when a parameter group is asked for: bytes, or a frame of the module.</summary>
/// <param name="Group">Parameter group number.</param>
/// <param name="Bytes">1 to 1785 bytes; empty when a frame is the answer.</param>
/// <param name="Frame">Index in the module's list of frames; null when bytes are the answer.</param>
public sealed record GroupAnswer(int Group, byte[] Bytes, int? Frame)
{
    public bool IsLong => Bytes.Length > Node.LongestShort;
}
