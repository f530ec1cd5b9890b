using Locum.Wire;

namespace Locum.Proving;

/// <summary>Identifier and format in the 32 bits that scripts and programs exchange: bit 31 for 29-bit identifiers, bit 30 for CAN FD, bit 29 for a frame that switches rates.</summary>
internal static class FrameWord
{
    private const uint Extended = 0x8000_0000;
    private const uint Fd = 0x4000_0000;
    private const uint SwitchRate = 0x2000_0000;

    public static uint Of(CanId id, FrameFormat format) => id.Value | (id.Extended ? Extended : 0) | format switch
    {
        FrameFormat.Classic => 0,
        FrameFormat.Fd => Fd,
        FrameFormat.FdSwitched => Fd | SwitchRate,
        _ => throw new ArgumentOutOfRangeException(nameof(format)),
    };

    public static (CanId Id, FrameFormat Format) Read(uint word)
    {
        var format = (word & Fd) is 0 ? FrameFormat.Classic : (word & SwitchRate) is 0 ? FrameFormat.Fd : FrameFormat.FdSwitched;
        var marks = format is FrameFormat.Classic ? Extended : Extended | Fd | SwitchRate;
        return (new CanId(word & ~marks, (word & Extended) is not 0), format);
    }
}
