using System.Buffers.Binary;

namespace Locum.Tests.Unit.Capture;

/// <summary>Writes pcap and pcapng by hand, in either byte order.</summary>
internal sealed class PcapBytes(bool big)
{
    public const int SocketCan = 227;
    public const int Cooked = 113;
    public const int Cooked2 = 276;

    private readonly List<byte> _bytes = [];

    public byte[] ToArray() => [.. _bytes];

    public PcapBytes PcapHeader(uint magic = 0xA1B2C3D4, int linkType = SocketCan) =>
        U32(magic).U16(2).U16(4).U32(0).U32(0).U32(65535).U32((uint)linkType);

    public PcapBytes PcapPacket(uint seconds, uint fraction, byte[] packet) =>
        U32(seconds).U32(fraction).U32((uint)packet.Length).U32((uint)packet.Length).Raw(packet);

    public PcapBytes Section() => Block(0x0A0D0D0A, new PcapBytes(big).U32(0x1A2B3C4D).U16(1).U16(0).U32(uint.MaxValue).U32(uint.MaxValue));

    public PcapBytes Interface(int linkType = SocketCan, string name = "", byte? resolution = null, long? offset = null)
    {
        var body = new PcapBytes(big).U16((ushort)linkType).U16(0).U32(0);
        if (name.Length > 0)
            body.Option(2, System.Text.Encoding.UTF8.GetBytes(name));
        if (resolution is { } r)
            body.Option(9, [r]);
        if (offset is { } o)
            body.Option(14, new PcapBytes(big).U64((ulong)o).ToArray());
        return Block(1, body.Option(0, []));
    }

    public PcapBytes Packet(uint number, ulong time, byte[] packet) =>
        Block(6, new PcapBytes(big).U32(number).U32((uint)(time >> 32)).U32((uint)time).U32((uint)packet.Length).U32((uint)packet.Length).Raw(packet));

    public PcapBytes OldPacket(ushort number, ulong time, byte[] packet) =>
        Block(2, new PcapBytes(big).U16(number).U16(0).U32((uint)(time >> 32)).U32((uint)time).U32((uint)packet.Length).U32((uint)packet.Length).Raw(packet));

    public PcapBytes SimplePacket(byte[] packet) => Block(3, new PcapBytes(big).U32((uint)packet.Length).Raw(packet));

    public PcapBytes Block(uint type, PcapBytes body)
    {
        var bytes = body.ToArray();
        int padding = -bytes.Length & 3;
        uint length = (uint)(bytes.Length + padding + 12);
        return U32(type).U32(length).Raw(bytes).Raw(new byte[padding]).U32(length);
    }

    public PcapBytes Raw(byte[] bytes)
    {
        _bytes.AddRange(bytes);
        return this;
    }

    public PcapBytes U16(ushort value)
    {
        var bytes = new byte[2];
        if (big)
            BinaryPrimitives.WriteUInt16BigEndian(bytes, value);
        else
            BinaryPrimitives.WriteUInt16LittleEndian(bytes, value);
        return Raw(bytes);
    }

    public PcapBytes U32(uint value)
    {
        var bytes = new byte[4];
        if (big)
            BinaryPrimitives.WriteUInt32BigEndian(bytes, value);
        else
            BinaryPrimitives.WriteUInt32LittleEndian(bytes, value);
        return Raw(bytes);
    }

    public PcapBytes U64(ulong value) => big ? U32((uint)(value >> 32)).U32((uint)value) : U32((uint)value).U32((uint)(value >> 32));

    private PcapBytes Option(ushort code, byte[] value) => U16(code).U16((ushort)value.Length).Raw(value).Raw(new byte[-value.Length & 3]);

    /// <summary>A frame with its header as SocketCAN has it; identifier and flags in network order, or little-endian for cooked captures of such machines.</summary>
    public static byte[] Can(uint word, byte[] data, byte flags = 0, bool littleEndian = false)
    {
        var bytes = new byte[8 + data.Length];
        if (littleEndian)
            BinaryPrimitives.WriteUInt32LittleEndian(bytes, word);
        else
            BinaryPrimitives.WriteUInt32BigEndian(bytes, word);
        bytes[4] = (byte)data.Length;
        bytes[5] = flags;
        data.CopyTo(bytes, 8);
        return bytes;
    }

    /// <summary>The header of a cooked capture in front of a packet.</summary>
    public static byte[] Cook(byte[] packet, ushort protocol) =>
        new PcapBytes(true).U16(1).U16(280).U16(0).U32(0).U32(0).U16(protocol).Raw(packet).ToArray();

    /// <summary>The header of a cooked capture of the second kind.</summary>
    public static byte[] Cook2(byte[] packet, ushort protocol, uint interfaceNumber) =>
        new PcapBytes(true).U16(protocol).U16(0).U32(interfaceNumber).U16(280).Raw([1, 0]).U64(0).Raw(packet).ToArray();
}
