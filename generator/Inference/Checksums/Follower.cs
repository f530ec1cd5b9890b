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
            if (moving.Length is 1)
                return b;
            foreach (var part in Parts(view.ChangedOther(b)))
            {
                if (IsFunction(view, set, place, b, part) || IsShifted(view, set, place, b, part))
                    return b;
            }
        }

        return Copies(view, set, place);
    }

    // A byte and its nibbles, as far as they change.
    private static IEnumerable<byte> Parts(byte changed)
    {
        yield return changed;
        if ((changed & 0x0F) != 0 && (changed & 0xF0) != 0)
        {
            yield return (byte)(changed & 0x0F);
            yield return (byte)(changed & 0xF0);
        }
    }

    // A function shows itself only where a value of the byte comes back with something else changed.
    private static bool IsFunction(HitView view, PayloadSet set, ChecksumPlace place, int index, byte mask)
    {
        var values = new ulong?[256];
        bool comesBack = false;
        foreach (int i in view.Indices)
        {
            ulong value = place.Read(set[i]);
            ref var known = ref values[set[i][index] & mask];
            if (known is { } before && before != value)
                return false;
            comesBack |= known is not null;
            known = value;
        }

        return comesBack;
    }

    // The same distance, up or down, by addition or XOR.
    private static bool IsShifted(HitView view, PayloadSet set, ChecksumPlace place, int index, byte mask)
    {
        ulong width = ulong.MaxValue >> (64 - place.Bits);
        int shift = (mask & 0x0F) is 0 ? 4 : 0;
        var first = set[view.Indices[0]];
        ulong firstValue = place.Read(first);
        ulong firstOther = (ulong)(first[index] & mask) >> shift;
        bool isUp = true, isDown = true, isXor = true;
        foreach (int i in view.Indices)
        {
            ulong value = place.Read(set[i]) - firstValue;
            ulong other = ((ulong)(set[i][index] & mask) >> shift) - firstOther;
            isUp &= ((value - other) & width) is 0;
            isDown &= ((value + other) & width) is 0;
            isXor &= ((place.Read(set[i]) ^ firstValue ^ ((ulong)(set[i][index] & mask) >> shift) ^ firstOther) & width) is 0;
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
