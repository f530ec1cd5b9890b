using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>A checksum as a description states it, and its evaluation; no part of it depends on the capture.</summary>
/// <param name="Place">Where the result stands.</param>
/// <param name="Rule">The arithmetic.</param>
/// <param name="Over">Payload bytes in the order in which they are read.</param>
/// <param name="Before">Bytes read before the payload.</param>
/// <param name="With">Bytes read after the payload.</param>
/// <param name="OwnBitsZero">The place's own bits count as 0 where <paramref name="Over"/> reaches them.</param>
public sealed record ChecksumStatement(
    ChecksumPlace Place,
    FoundRule Rule,
    IReadOnlyList<int> Over,
    IReadOnlyList<MixedByte> Before,
    IReadOnlyList<MixedByte> With,
    bool OwnBitsZero)
{
    /// <summary>The value that belongs into the place; null when the secret of the payload's counter value is unknown.</summary>
    /// <param name="id">Identifier of the frame.</param>
    /// <param name="payload">All data bytes; what stands at the place does not matter.</param>
    public ulong? Compute(CanId id, ReadOnlySpan<byte> payload)
    {
        Span<byte> input = stackalloc byte[Before.Count + Over.Count + With.Count];
        int n = 0;
        foreach (var mixed in Before)
        {
            if (Value(mixed, id, payload) is not { } value)
                return null;
            input[n++] = value;
        }

        foreach (int b in Over)
            input[n++] = OwnBitsZero ? (byte)(payload[b] & ~Place.Mask(b)) : payload[b];
        foreach (var mixed in With)
        {
            if (Value(mixed, id, payload) is not { } value)
                return null;
            input[n++] = value;
        }

        return RuleArithmetic.Compute(Rule, input) & (ulong.MaxValue >> (64 - Place.Bits));
    }

    /// <summary>True when the place holds what <see cref="Compute"/> gives.</summary>
    public bool Holds(CanId id, ReadOnlySpan<byte> payload) => Compute(id, payload) == Place.Read(payload);

    private static byte? Value(MixedByte mixed, CanId id, ReadOnlySpan<byte> payload) => mixed switch
    {
        MixedLiteral literal => literal.Value,
        MixedIdentifier part => (byte)(id.Value >> (8 * part.Number)),
        MixedLength => (byte)payload.Length,
        MixedSecret secret => secret.Table[(int)secret.Counter.Read(payload)],
        _ => throw new ArgumentOutOfRangeException(nameof(mixed)),
    };
}
