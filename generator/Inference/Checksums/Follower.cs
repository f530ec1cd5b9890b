namespace Locum.Inference.Checksums;

/// <summary>
/// Tells whether a place merely follows one other byte, or copies single bits: a second counter, a complement, a
/// repeated signal. Such data fit a sum, an XOR and now and then a CRC without being a checksum.
/// </summary>
internal static class Follower
{
    /// <summary>The byte that the place follows; null when none does. A place that copies bits of several bytes names the first of them.</summary>
    public static int? Find(Verified verified, HitView view, PayloadSet set)
    {
        var place = verified.Fit.Place;
        int[] moving = [.. Enumerable.Range(0, set.Length).Where(b => view.ChangedOther(b) != 0)];
        foreach (int b in moving)
        {
            if (moving.Length is 1 || IsFunction(view, set, place, b) || IsShifted(view, set, place, b))
                return b;
        }

        return Copies(view, set, place);
    }

    // A function shows itself only where a value of the byte comes back with something else changed.
    private static bool IsFunction(HitView view, PayloadSet set, ChecksumPlace place, int index)
    {
        var values = new ulong?[256];
        var others = new int[256];
        bool comesBack = false;
        byte mask = (byte)~place.Mask(index);
        foreach (int i in view.Indices)
        {
            int at = set[i][index] & mask;
            ulong value = place.Read(set[i]);
            if (values[at] is not { } known)
            {
                values[at] = value;
                others[at] = i;
                continue;
            }

            if (known != value)
                return false;
            comesBack = true;
        }

        return comesBack;
    }

    // The same distance, up or down, by addition or XOR.
    private static bool IsShifted(HitView view, PayloadSet set, ChecksumPlace place, int index)
    {
        ulong width = ulong.MaxValue >> (64 - place.Bits);
        int shift = place.Bits < 8 && view.ChangedOther(index) > 0xF ? 4 : 0;
        ulong up = 0, down = 0, xor = 0;
        bool isUp = true, isDown = true, isXor = true;
        bool first = true;
        foreach (int i in view.Indices)
        {
            ulong value = place.Read(set[i]);
            ulong other = (ulong)(set[i][index] & ~place.Mask(index)) >> shift;
            if (first)
                (up, down, xor, first) = ((value - other) & width, (value + other) & width, (value ^ other) & width, false);
            isUp &= ((value - other) & width) == up;
            isDown &= ((value + other) & width) == down;
            isXor &= ((value ^ other) & width) == xor;
        }

        return isUp || isDown || isXor;
    }

    // Every changing bit of the place equals one changing bit elsewhere, or its opposite.
    private static int? Copies(HitView view, PayloadSet set, ChecksumPlace place)
    {
        ulong first = place.Read(set[view.Indices[0]]);
        ulong changing = 0;
        foreach (int i in view.Indices)
            changing |= place.Read(set[i]) ^ first;
        int? source = null;
        for (int bit = 0; bit < place.Bits; bit++)
        {
            if (((changing >> bit) & 1) is 0)
                continue;
            if (CopiedFrom(view, set, place, bit) is not { } index)
                return null;
            source ??= index;
        }

        return source;
    }

    private static int? CopiedFrom(HitView view, PayloadSet set, ChecksumPlace place, int bit)
    {
        var same = new byte[set.Length];
        var opposite = new byte[set.Length];
        for (int b = 0; b < set.Length; b++)
            same[b] = opposite[b] = view.ChangedOther(b);
        foreach (int i in view.Indices)
        {
            bool isSet = ((place.Read(set[i]) >> bit) & 1) != 0;
            int left = 0;
            for (int b = 0; b < set.Length; b++)
            {
                byte value = isSet ? set[i][b] : (byte)~set[i][b];
                same[b] &= value;
                opposite[b] &= (byte)~value;
                left |= same[b] | opposite[b];
            }

            if (left is 0)
                return null;
        }

        return Array.FindIndex(same, b => b != 0) is >= 0 and var index ? index : Array.FindIndex(opposite, b => b != 0);
    }
}
