using System.Collections.Concurrent;
using Locum.Protection;

namespace Locum.Inference.Checksums;

/// <summary>The places and ranges to try for payloads of one length, and how many rules they make.</summary>
internal sealed class SearchSpace
{
    private const int ByteBits = 8;

    private static readonly ConcurrentDictionary<int, SearchSpace> s_byLength = new();

    private SearchSpace(int length)
    {
        Small = [.. Places.Small(length).Select(p => new Spot(p, ByteRange.For(length, p)))];
        Wide = [.. KnownCrcSearch.Widths.SelectMany(w => Places.OfBytes(length, w / ByteBits)).Select(p => new Spot(p, ByteRange.For(length, p)))];
        foreach (var spot in Small)
        {
            Count(PlainFit.FamilyOf(spot.Place), PlainSearch.Count(spot));
            Count(RuleFamily.Named, NamedRules.Count(spot.Place.Bits));
            Count(RuleFamily.Profile, E2EProfile.All.Count);
            if (spot.Place.Bits >= ByteBits)
                Count(spot.Place.Bits is ByteBits ? RuleFamily.Crc8 : RuleFamily.Crc16, CrcSearch.Count(spot, null));
        }

        foreach (var spot in Wide)
        {
            Count(RuleFamily.Wide, KnownCrcSearch.Count(spot));
            Count(RuleFamily.Named, NamedRules.Count(spot.Place.Bits));
        }
    }

    /// <summary>A place and the ranges to try for it, plain ones first.</summary>
    public sealed record Spot(ChecksumPlace Place, IReadOnlyList<ByteRange> Ranges);

    /// <summary>Places of 4, 8 and 16 bits.</summary>
    public IReadOnlyList<Spot> Small { get; }

    /// <summary>Places of 32 and 64 bits.</summary>
    public IReadOnlyList<Spot> Wide { get; }

    /// <summary>Rules tried in each family, without those with a secret, whose number depends on the counters.</summary>
    public double[] Rules { get; } = new double[Enum.GetValues<RuleFamily>().Length];

    /// <summary>The space of a length, made once.</summary>
    public static SearchSpace Of(int length) => s_byLength.GetOrAdd(length, l => new SearchSpace(l));

    private void Count(RuleFamily family, double rules) => Rules[(int)family] += rules;
}
