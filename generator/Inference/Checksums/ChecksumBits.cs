using Locum.Protection;

namespace Locum.Inference.Checksums;

/// <summary>Payload bits that a finding explains.</summary>
internal static class ChecksumBits
{
    private const int Nibble = 4;

    /// <summary>The bits as byte × 8 + bit: the checksum's own, with a profile those of its whole header.</summary>
    public static IReadOnlyList<int> Of(ChecksumFinding finding)
    {
        var bits = Positions(finding.Statement.Place).ToHashSet();
        if (finding.Protect is { } protect)
        {
            bits.UnionWith(Positions(protect.Counter));
            int first = protect.Offset * 8;
            if (protect.Profile.Kind is E2EKind.Nibble)
                bits.UnionWith(Enumerable.Range(first + 8 + Nibble, Nibble));
            if (protect.Profile.Kind is E2EKind.Profile4 or E2EKind.Profile6 or E2EKind.Profile7)
                bits.UnionWith(Enumerable.Range(first, protect.Profile.Header * 8));
        }
        return [.. bits.Order()];
    }

    private static IEnumerable<int> Positions(ChecksumPlace place) => new FieldPlace(place.Bit, place.Bits, place.BigEndian).Positions();
}
