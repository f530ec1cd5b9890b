using System.Runtime.CompilerServices;

namespace Locum.Inference.Checksums;

/// <summary>
/// Finds sums and XORs by trying all of them: a rule fits when the constant that it needs is the same for all payloads.
/// </summary>
internal sealed class PlainSearch
{
    private const int ByteBits = 8;

    // Enough to refute any rule on changing data; the rest is checked afterwards.
    private const int MostSampled = 24;

    private static readonly (PlainKind Kind, bool Negative)[] s_bytes =
        [(PlainKind.Sum, false), (PlainKind.Sum, true), (PlainKind.Xor, false), (PlainKind.CarrySum, false), (PlainKind.CarrySum, true)];

    private static readonly (PlainKind Kind, bool Negative)[] s_bytesOfPart = [.. s_bytes.Where(k => k.Kind is not PlainKind.CarrySum)];

    private static readonly (PlainKind Kind, bool Negative)[] s_nibbles =
        [(PlainKind.NibbleSum, false), (PlainKind.NibbleSum, true), (PlainKind.NibbleXor, false), (PlainKind.Sum, false), (PlainKind.Sum, true)];

    private static readonly (PlainKind Kind, bool Negative)[] s_words = [(PlainKind.Sum, false), (PlainKind.Sum, true)];

    private readonly Sample _sample;
    private readonly SampledPayload[] _payloads;

    /// <summary>Prepares a search over the payloads of a sample.</summary>
    public PlainSearch(PayloadSet set, Sample sample)
    {
        _sample = sample;
        int[] all = [sample.Pairs[0].B, .. sample.Pairs.Select(p => p.A)];
        if (all.Length > MostSampled)
            all = [.. Enumerable.Range(0, MostSampled).Select(i => all[i * all.Length / MostSampled])];
        _payloads = [.. all.Select(i => new SampledPayload(set[i]))];
    }

    /// <summary>All plain rules at a place that fit the sample.</summary>
    /// <param name="spot">4, 8 or 16 bits.</param>
    public IReadOnlyList<PlainFit> Find(SearchSpace.Spot spot)
    {
        var place = spot.Place;
        var fits = new List<PlainFit>();
        Span<ulong> checksums = stackalloc ulong[_payloads.Length];
        for (int i = 0; i < checksums.Length; i++)
            checksums[i] = place.Read(_payloads[i].Bytes);
        foreach (var range in spot.Ranges)
        {
            if (!Tried(range, place))
                continue;
            foreach (var (kind, negative) in Kinds(place, range))
            {
                if (Fits(place, range, kind, negative, checksums) && IsNew(place, range, kind, negative, fits))
                    fits.Add(new PlainFit(place, range, kind, negative));
            }
        }

        return fits;
    }

    /// <summary>Rules that <see cref="Find"/> tries.</summary>
    public static double Count(SearchSpace.Spot spot) => spot.Ranges.Where(r => Tried(r, spot.Place)).Sum(r => (double)Kinds(spot.Place, r).Length);

    // To a sum of whole bytes, own bits of 0 are the same as own bytes left out.
    private static bool Tried(ByteRange range, ChecksumPlace place) => !range.OwnZero || place.Bits < ByteBits;

    // Modulo 255 the bytes of a number add up to the number itself, so a sum with carry over a part follows any counter.
    private static (PlainKind Kind, bool Negative)[] Kinds(ChecksumPlace place, ByteRange range) =>
        place.Bits switch { 4 => s_nibbles, ByteBits => range.Plainness > 1 ? s_bytesOfPart : s_bytes, _ => s_words };

    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private bool Fits(ChecksumPlace place, ByteRange range, PlainKind kind, bool negative, ReadOnlySpan<ulong> checksums)
    {
        ulong constant = 0;
        for (int i = 0; i < _payloads.Length; i++)
        {
            ulong residue = PlainFit.Residue(kind, negative, place.Bits, _payloads[i].Value(kind, range, place), checksums[i]);
            if (i is 0)
                constant = residue;
            else if (residue != constant)
                return false;
        }

        return true;
    }

    // Ranges that cover the same changing bytes are one hypothesis with two constants; the plainer comes first. The plain
    // ranges are kept all the same: one of them may need no unknown constant.
    private bool IsNew(ChecksumPlace place, ByteRange range, PlainKind kind, bool negative, List<PlainFit> fits)
    {
        ulong covered = Covered(place, range);
        return covered != 0 && (range.Plainness <= 1 || !fits.Exists(f => f.Kind == kind && f.Negative == negative && Covered(place, f.Range) == covered));
    }

    // A bit per byte suffices for payloads of up to 64 bytes.
    private ulong Covered(ChecksumPlace place, ByteRange range)
    {
        ulong covered = 0;
        foreach (int index in range.Bytes)
        {
            if ((_sample.Changed(index) & ~place.Mask(index)) != 0)
                covered |= 1UL << index;
        }

        return covered;
    }
}
