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

    /// <summary>The place.</summary>
    public ChecksumPlace Place => Finding.Statement.Place;

    /// <summary>
    /// True when both state one relation among the payload's bits, seen from two places: an XOR or a sum that adds up to
    /// a constant. Both accept the same payloads, as long as only bits change that did.
    /// </summary>
    public bool IsSameRelation(Ranked other)
    {
        if (Fit is not PlainFit own || other.Fit is not PlainFit theirs || Finding.Length != other.Finding.Length)
            return false;
        if (own.Kind != theirs.Kind || Place.Bits != other.Place.Bits || !(own.IsXor || (own.Negative && theirs.Negative)))
            return false;
        for (int b = 0; b < Finding.Length; b++)
        {
            if (((Reach(b) ^ other.Reach(b)) & (View.Changed(b) | other.View.Changed(b))) != 0)
                return false;
        }

        return !Place.Overlaps(other.Place);
    }

    private int Reach(int index) => Fit.Range.Mask(index, Place) | Place.Mask(index);
}
