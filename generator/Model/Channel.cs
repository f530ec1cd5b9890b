using Locum.Text;

namespace Locum.Model;

/// <summary>A pair of identifiers on which the module answers a tester (ISO 15765-2 and ISO 14229-1).</summary>
public sealed record Channel
{
    /// <summary>How long a tester waits for an answer or for "response pending", µs (ISO 14229-1, from memory).</summary>
    public const long P2Us = 50_000;

    /// <summary>How long it waits for the next one behind "response pending", µs.</summary>
    public const long P2StarUs = 5_000_000;

    /// <summary>Fills CAN FD frames of more than 8 bytes where no padding is described (ISO 15765-2, from memory).</summary>
    public const byte DefaultPadding = 0xCC;

    public required string Name { get; init; }

    /// <summary>Index of the answer frame in the module's list of frames.</summary>
    public required int Frame { get; init; }

    /// <summary>Index of the request in the module's list of received frames.</summary>
    public required int Request { get; init; }

    /// <summary>Index of the functional request in the module's list of received frames; null: none.</summary>
    public required int? Functional { get; init; }

    /// <summary>Bytes of the longest frame sent: 8, with CAN FD also 12 to 64.</summary>
    public required int FrameLength { get; init; }

    /// <summary>Fills frames up to 8 bytes; null: frames are as short as what they carry.</summary>
    public required byte? Padding { get; init; }

    /// <summary>Consecutive frames that a tester sends before it waits; 0: all of them.</summary>
    public required int BlockSize { get; init; }

    /// <summary>Least distance between a tester's consecutive frames, as coded on the wire.</summary>
    public required byte Separation { get; init; }

    /// <summary>From the end of a request to its answer, µs; above P2 (50 ms) "response pending" comes first.</summary>
    public required long AnswerAfterUs { get; init; }

    /// <summary>Numbers of the sessions, the default one among them.</summary>
    public required IReadOnlyList<byte> Sessions { get; init; }

    public required bool AcceptsReset { get; init; }

    /// <summary>Security access is known and denied, instead of unknown.</summary>
    public required bool DeniesSecurity { get; init; }

    /// <summary>There is a fault memory, and it is empty.</summary>
    public required bool HasMemory { get; init; }

    public required IReadOnlyList<Identifier> Identifiers { get; init; }

    public required Span Span { get; init; }

    /// <summary>Bytes of the longest answer: every identifier once.</summary>
    public int LongestAnswer => Math.Max(8, 1 + Identifiers.Sum(i => 2 + i.Bytes.Length));
}

/// <summary>A data identifier and what is read from it.</summary>
/// <param name="AfterUs">How long reading it takes, if longer than other answers, µs.</param>
public sealed record Identifier(ushort Number, byte[] Bytes, long AfterUs);
