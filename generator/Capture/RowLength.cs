using Locum.Model;
using Locum.Wire;

namespace Locum.Capture;

/// <summary>Lengths in tables.</summary>
internal static class RowLength
{
    /// <summary>A number up to 64, also in brackets, with f or b behind for CAN FD without and with a switch of rates; -1 for anything else.</summary>
    public static int Read(ReadOnlySpan<byte> field, NumberBase numbers, out FrameTraits traits)
    {
        traits = FrameTraits.None;
        if (field.Length is 1 && (uint)(field[0] - '0') <= 9)
            return field[0] - '0';
        field = field.Trim("[]() "u8);
        if (field.Length > 1 && numbers is NumberBase.Decimal && field[^1] is (byte)'f' or (byte)'b' && field[0] is not (byte)'0')
        {
            traits = FrameTraits.Fd | (field[^1] is (byte)'b' ? FrameTraits.RateSwitched : FrameTraits.None);
            field = field[..^1];
        }

        int value = ByteText.One(field, numbers);
        return value <= FdLengths.Most ? value : -1;
    }
}
