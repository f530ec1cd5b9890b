using System.Buffers.Binary;
using System.Text;

namespace Locum.Capture;

/// <summary>
/// Packets by link type: bare CAN frames, and CAN frames behind the headers of captures from all interfaces of a
/// Linux machine at once (registry of link types, from memory).
/// </summary>
internal static class LinkPacket
{
    private const int SocketCan = 227;
    private const int Cooked = 113;
    private const int Cooked2 = 276;

    private const int CookedSize = 16;
    private const int CookedProtocol = 14;
    private const int Cooked2Size = 20;
    private const int Cooked2Interface = 4;

    private const ushort ProtocolCan = 0x000C;
    private const ushort ProtocolCanFd = 0x000D;

    /// <summary>True for link types in which CAN frames can come.</summary>
    public static bool Carries(int linkType) => linkType is SocketCan or Cooked or Cooked2;

    /// <summary>True for link types whose packets say themselves which interface they came from.</summary>
    public static bool NamesBus(int linkType) => linkType is Cooked2;

    /// <summary>Hands one packet on, or counts why not.</summary>
    /// <param name="linkType">Kind of the packet.</param>
    /// <param name="packet">What was captured of it.</param>
    /// <param name="whole">Its length on the interface.</param>
    /// <param name="bigEndian">Byte order of the file, in which cooked captures leave the identifier.</param>
    /// <param name="timeNs">When.</param>
    /// <param name="bus">Number of the interface's bus.</param>
    /// <param name="intake">Takes the entry.</param>
    /// <param name="place">Number of the packet.</param>
    public static void Take(
        int linkType, ReadOnlySpan<byte> packet, long whole, bool bigEndian, long timeNs, int bus, FrameIntake intake, long place)
    {
        if (linkType is SocketCan)
        {
            SocketCanPacket.Take(packet, whole, false, false, timeNs, bus, intake, place);
            return;
        }

        int size = linkType is Cooked ? CookedSize : Cooked2Size;
        if (!Carries(linkType) || packet.Length < size)
        {
            intake.Oddities.Add(Carries(linkType) ? OddityKind.ShortPacket : OddityKind.ForeignPacket, place);
            return;
        }

        ushort protocol = BinaryPrimitives.ReadUInt16BigEndian(packet[(linkType is Cooked ? CookedProtocol : 0)..]);
        if (protocol is not (ProtocolCan or ProtocolCanFd))
        {
            intake.Oddities.Add(OddityKind.ForeignPacket, place);
            return;
        }

        if (linkType is Cooked2)
            bus = Interface(BinaryPrimitives.ReadUInt32BigEndian(packet[Cooked2Interface..]), intake);
        SocketCanPacket.Take(packet[size..], whole - size, protocol is ProtocolCanFd, !bigEndian, timeNs, bus, intake, place);
    }

    private static int Interface(uint number, FrameIntake intake)
    {
        Span<byte> name = stackalloc byte[24];
        Encoding.ASCII.GetBytes("interface ", name);
        number.TryFormat(name[10..], out int written);
        return intake.Bus(name[..(10 + written)]);
    }
}
