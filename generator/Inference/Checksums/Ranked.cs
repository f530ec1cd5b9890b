namespace Locum.Inference.Checksums;

/// <summary>A finding with what is needed to compare it with others.</summary>
/// <param name="Finding">The finding.</param>
/// <param name="Fit">The rule behind it.</param>
/// <param name="View">The payloads that satisfy it.</param>
/// <param name="Score">How much the place looks like that of a checksum (<see cref="PlaceScore"/>).</param>
internal sealed record Ranked(ChecksumFinding Finding, Fit Fit, HitView View, double Score)
{
    /// <summary>A named rule over all bytes.</summary>
    public bool IsCustomary { get; init; }

    /// <summary>The place, or a part of it, steps by one from frame to frame.</summary>
    public bool IsCounting { get; init; }

    /// <summary>The place.</summary>
    public ChecksumPlace Place => Finding.Statement.Place;

    /// <summary>True for XORs and for sums that add up to a constant: any byte is that rule of the others.</summary>
    public bool IsSymmetric => Fit is PlainFit { IsXor: true } or PlainFit { Negative: true };

    /// <summary>
    /// True when both state one relation among the payload's bits, seen from two places: an XOR, a sum that adds up to a
    /// constant, or a CRC whose polynomial leads round to another place. Both accept the same payloads, as long as only
    /// bits change that did.
    /// </summary>
    public bool IsSameRelation(Ranked other)
    {
        if (Finding.Length != other.Finding.Length || Place.Bits != other.Place.Bits || Place.Overlaps(other.Place))
            return false;
        if (Fit.Classes is not null || other.Fit.Classes is not null || Fit.Arithmetic != other.Fit.Arithmetic)
            return false;
        return Fit switch
        {
            { IsLinear: true } => IsSameLinear(other),
            PlainFit { Negative: true } own => other.Fit is PlainFit { Negative: true } theirs && own.Kind == theirs.Kind && ReachSame(other),
            _ => false,
        };
    }

    private bool ReachSame(Ranked other)
    {
        for (int b = 0; b < Finding.Length; b++)
        {
            int reach = Fit.Range.Mask(b, Place) | Place.Mask(b);
            int theirs = other.Fit.Range.Mask(b, other.Place) | other.Place.Mask(b);
            if (((reach ^ theirs) & Moving(b, other)) != 0)
                return false;
        }

        return true;
    }

    // With the identity at its own place, a rule is a matrix that takes right payloads to its constant. Two state the same
    // relation when one matrix is the other times what the first makes of the second's place.
    private bool IsSameLinear(Ranked other)
    {
        Span<ulong> change = stackalloc ulong[Place.Bits];
        for (int i = 0; i < change.Length; i++)
            change[i] = Response(other.Place, i);
        for (int b = 0; b < Finding.Length; b++)
        {
            for (int bit = 0; bit < 8; bit++)
            {
                if (((Moving(b, other) >> bit) & 1) is 0)
                    continue;
                ulong theirs = other.Full(b, bit);
                ulong expected = 0;
                for (int i = 0; i < change.Length; i++)
                    expected ^= ((theirs >> i) & 1) is 0 ? 0 : change[i];
                if (Full(b, bit) != expected)
                    return false;
            }
        }

        return true;
    }

    private int Moving(int index, Ranked other) => View.Changed(index) | other.View.Changed(index);

    private ulong Response(ChecksumPlace place, int bit)
    {
        var (index, at) = place.Locate(bit);
        return Full(index, at);
    }

    private ulong Full(int index, int bit)
    {
        for (int i = 0; i < Place.Bits; i++)
        {
            if (Place.Locate(i) == (index, bit))
                return 1UL << i;
        }

        return Fit.Response(index, bit);
    }
}
