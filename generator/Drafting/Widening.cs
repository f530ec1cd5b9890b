using Locum.Inference;
using Locum.Inference.Checksums;
using Locum.Inference.Payload;

namespace Locum.Drafting;

/// <summary>
/// Widens fields over bits that never changed: nobody saw the highest bits of a number move, but up to the end of the nibble or
/// byte they belong to it most probably.
/// </summary>
internal sealed class Widening
{
    private const int NibbleBits = 4;
    private const int Widest = 32;

    private readonly BitActivity _activity;
    private readonly HashSet<int> _taken;

    /// <param name="activity">The payload's bits.</param>
    /// <param name="taken">Bits of other fields.</param>
    public Widening(BitActivity activity, IEnumerable<int> taken) => (_activity, _taken) = (activity, [.. taken]);

    /// <summary>For a frame with all that was found in it.</summary>
    public static Widening Of(FrameFindings frame) => new(frame.Activity, frame.Counters.SelectMany(c => c.Place.Positions())
        .Concat(frame.Checksums.SelectMany(ChecksumBits.Of)).Concat(frame.Pages?.Bits ?? [])
        .Concat(frame.Follows.SelectMany(f => f.Place.Positions())).Concat(frame.Values.SelectMany(v => v.Place.Positions())));

    /// <summary>Up to the end of a nibble, if the field lies in one, or of a byte.</summary>
    public FieldPlace Counter(FieldPlace place) => Up(place, place.Bit % NibbleBits + place.Bits <= NibbleBits ? NibbleBits : 8, _ => true);

    /// <summary>Up to the end of the byte over bits that are 0, so that the field's values stay.</summary>
    public FieldPlace Number(FieldPlace place) => Up(place, 8, b => !_activity.IsSet(b));

    private FieldPlace Up(FieldPlace place, int border, Func<int, bool> fits)
    {
        int position = place.Positions().Last() + 1;
        var wide = place;
        for (; position % border != 0 && position < _activity.Bits && wide.Bits < Widest && !_activity.Changes(position) && fits(position) && _taken.Add(position); position++)
            wide = wide with { Bits = wide.Bits + 1 };
        return wide;
    }
}
