using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>Bytes that are customarily mixed into a checksum beside the payload.</summary>
internal static class ExtraBytes
{
    private static readonly MixedByte s_low = new MixedIdentifier(0);
    private static readonly MixedByte s_high = new MixedIdentifier(1);
    private static readonly MixedByte s_length = new MixedLength();
    private static readonly MixedByte[] s_whole = [new MixedIdentifier(3), new MixedIdentifier(2), new MixedIdentifier(1), new MixedIdentifier(0)];

    /// <summary>
    /// Combinations whose order does not matter, customary ones first; the first is empty. Four bits would be explained
    /// by one of many combinations whatever they are, so the whole identifier alone is tried for them.
    /// </summary>
    public static IReadOnlyList<MixedByte[]> Unordered(CanId id, int bits) =>
        bits < 8 ? [[], id.Extended ? s_whole : [s_high, s_low]] : id.Extended
        ? [[], s_whole, [.. s_whole, s_length], [s_low], [s_low, s_length], [s_high, s_low], [s_length]]
        : [[], [s_high, s_low], [s_high, s_low, s_length], [s_low], [s_low, s_length], [s_length]];

    /// <summary>Sequences of a length, customary ones first.</summary>
    public static IReadOnlyList<MixedByte[]> Ordered(CanId id, int length) => length switch
    {
        0 => [[]],
        1 => [[s_low], [s_high], [s_length]],
        2 => [[s_low, s_high], [s_high, s_low]],
        4 when id.Extended => [s_whole, [.. s_whole.Reverse()]],
        _ => [],
    };

    /// <summary>Number of combinations, for counting hypotheses.</summary>
    public const int Combinations = 8;
}
