using System.Buffers.Binary;
using Locum.Wire;

namespace Locum.Capture;

/// <summary>
/// A CAN frame as Linux hands it to capturing programs: identifier and flags in 32 bits, length, flags of CAN FD, two
/// bytes more, data (link type 227; linux/can.h, from memory – the tests compare with an independent reader).
/// </summary>
internal static class SocketCanPacket
{
    /// <summary>Bytes in front of the data.</summary>
    public const int HeaderSize = 8;

    private const uint ExtendedFlag = 0x8000_0000;
    private const uint RemoteFlag = 0x4000_0000;
    private const uint ErrorFlag = 0x2000_0000;
    private const byte SwitchFlag = 0x01;
    private const byte PassiveFlag = 0x02;
    private const byte FdFlag = 0x04;
    private const byte LongFlag = 0x80;
    private const int ClassicMost = 8;
    private const int FdPacketSize = HeaderSize + FdLengths.Most;

    /// <summary>Hands one packet on, or counts why not.</summary>
    /// <param name="packet">Header and data, and perhaps padding.</param>
    /// <param name="whole">Length of the packet before the capturing program cut it.</param>
    /// <param name="knownFd">The layer below says that it is CAN FD.</param>
    /// <param name="hostOrder">The identifier is little-endian.</param>
    /// <param name="timeNs">When.</param>
    /// <param name="bus">Number of the bus.</param>
    /// <param name="intake">Takes the entry.</param>
    /// <param name="place">Number of the packet.</param>
    public static void Take(
        ReadOnlySpan<byte> packet, long whole, bool knownFd, bool hostOrder, long timeNs, int bus, FrameIntake intake, long place)
    {
        if (packet.Length < HeaderSize)
        {
            intake.Oddities.Add(whole >= HeaderSize ? OddityKind.SnappedPacket : OddityKind.ShortPacket, place);
            return;
        }

        uint word = hostOrder ? BinaryPrimitives.ReadUInt32LittleEndian(packet) : BinaryPrimitives.ReadUInt32BigEndian(packet);
        int length = packet[4];
        byte flags = packet[5];
        if ((word & ErrorFlag) is not 0)
        {
            intake.Take(new CaptureFrame(timeNs, bus, 0, FrameTraits.Error, 0), [], place);
            return;
        }

        // Before the flag of CAN FD was agreed on, only the size told the two apart. CAN XL keeps its flag in the place of the length.
        bool fd = knownFd || (flags & FdFlag) is not 0 || packet.Length == FdPacketSize || length > ClassicMost;
        if ((length & LongFlag) is not 0)
        {
            intake.Oddities.Add(OddityKind.LongFrame, place);
            return;
        }

        if (length > ClassicMost && FdLengths.Code(length) is null)
        {
            intake.Oddities.Add(OddityKind.BadLength, place);
            return;
        }

        bool extended = (word & ExtendedFlag) is not 0;
        uint id = word & CanId.MaxExtended;
        if (!extended && id > CanId.MaxStandard)
        {
            intake.Oddities.Add(OddityKind.IdTooLarge, place);
            return;
        }

        var traits = extended ? FrameTraits.Extended : FrameTraits.None;
        if (fd)
            traits |= FdTraits(flags);
        else if ((word & RemoteFlag) is not 0)
            traits |= FrameTraits.Remote;
        if ((traits & FrameTraits.Remote) is not 0)
            intake.Take(new CaptureFrame(timeNs, bus, id, traits, (byte)length), [], place);
        else if (packet.Length - HeaderSize < length)
            intake.Oddities.Add(whole - HeaderSize >= length ? OddityKind.SnappedPacket : OddityKind.ShortPacket, place);
        else
            intake.Take(new CaptureFrame(timeNs, bus, id, traits, (byte)length), packet.Slice(HeaderSize, length), place);
    }

    private static FrameTraits FdTraits(byte flags) =>
        FrameTraits.Fd
        | ((flags & SwitchFlag) is not 0 ? FrameTraits.RateSwitched : FrameTraits.None)
        | ((flags & PassiveFlag) is not 0 ? FrameTraits.ErrorPassive : FrameTraits.None);
}
