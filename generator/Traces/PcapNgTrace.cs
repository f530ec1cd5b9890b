using System.Buffers.Binary;
using Locum.Simulation;
using Locum.Wire;

namespace Locum.Traces;

/// <summary>
/// Frames as a pcapng capture: one interface per bus, link type 227 (SocketCAN frames), microseconds since
/// power-on as time stamps, taken at the end of each frame. The sender is the packet's comment. Link type and
/// codes are from memory of the format's registry; the tests read the files with an independent program.
/// </summary>
public static class PcapNgTrace
{
    private const uint SectionHeader = 0x0A0D0D0A;
    private const uint InterfaceDescription = 1;
    private const uint EnhancedPacket = 6;

    private const ushort OptionComment = 1;
    private const ushort OptionInterfaceName = 2;
    private const ushort OptionTimeResolution = 9;
    private const ushort OptionApplication = 4;
    private const ushort OptionTimeOffset = 14;

    private const ushort LinkTypeSocketCan = 227;
    private const byte Microseconds = 6;
    private const uint ExtendedFlag = 0x8000_0000;
    private const byte FdFlag = 0x04;
    private const byte SwitchFlag = 0x01;
    private const int FrameHeaderSize = 8;

    /// <summary>Writes one section with all buses and frames, in the order given. The stream stays open.</summary>
    /// <param name="output">Receives the file.</param>
    /// <param name="buses">Names of all buses, silent ones included; their order numbers the interfaces.</param>
    /// <param name="frames">Frames of these buses.</param>
    /// <exception cref="ArgumentException">A frame's bus is not among <paramref name="buses"/>.</exception>
    public static void Write(Stream output, IReadOnlyList<string> buses, IEnumerable<SentFrame> frames)
    {
        WriteSectionHeader(output);
        var interfaces = new Dictionary<string, uint>(StringComparer.Ordinal);
        foreach (string bus in buses)
        {
            interfaces.Add(bus, (uint)interfaces.Count);
            WriteInterface(output, bus, Microseconds, []);
        }

        foreach (var frame in frames)
        {
            if (!interfaces.TryGetValue(frame.Bus, out uint number))
                throw new ArgumentException($"The bus '{frame.Bus}' was not announced.", nameof(frames));
            WritePacket(output, number, (ulong)frame.EndUs, SocketCanFrame(frame), frame.Sender);
        }
    }

    internal static void WriteSectionHeader(Stream output)
    {
        var block = new PcapNgBlock(SectionHeader);
        block.Add32(0x1A2B3C4D); // tells the byte order
        block.Add16(1);
        block.Add16(0);
        block.Add32(uint.MaxValue); // length of the section: not stated
        block.Add32(uint.MaxValue);
        block.AddOption(OptionApplication, "locum");
        block.WriteTo(output);
    }

    /// <param name="output">Receives the block.</param>
    /// <param name="bus">Name of the interface.</param>
    /// <param name="resolution">Negative power of ten of the unit of times.</param>
    /// <param name="offset">Seconds to be added to all times, 64 bits; empty for none.</param>
    internal static void WriteInterface(Stream output, string bus, byte resolution, ReadOnlySpan<byte> offset)
    {
        var block = new PcapNgBlock(InterfaceDescription);
        block.Add16(LinkTypeSocketCan);
        block.Add16(0);
        block.Add32(0); // no limit on the bytes kept of a packet
        block.AddOption(OptionInterfaceName, bus);
        block.AddOption(OptionTimeResolution, [resolution]);
        if (!offset.IsEmpty)
            block.AddOption(OptionTimeOffset, offset);
        block.WriteTo(output);
    }

    /// <param name="output">Receives the block.</param>
    /// <param name="interfaceNumber">Number of the interface.</param>
    /// <param name="time">In the unit of the interface.</param>
    /// <param name="packet">The bytes.</param>
    /// <param name="comment">Empty for none.</param>
    internal static void WritePacket(Stream output, uint interfaceNumber, ulong time, byte[] packet, string comment)
    {
        var block = new PcapNgBlock(EnhancedPacket);
        block.Add32(interfaceNumber);
        block.Add32((uint)(time >> 32));
        block.Add32((uint)time);
        block.Add32((uint)packet.Length);
        block.Add32((uint)packet.Length);
        block.AddPadded(packet);
        if (comment.Length > 0)
            block.AddOption(OptionComment, comment);
        block.WriteTo(output);
    }

    private static byte[] SocketCanFrame(SentFrame frame)
    {
        var packet = new byte[FrameHeaderSize + frame.Data.Length];
        uint id = frame.Id.Extended ? frame.Id.Value | ExtendedFlag : frame.Id.Value;
        BinaryPrimitives.WriteUInt32BigEndian(packet, id);
        packet[4] = (byte)frame.Data.Length;
        packet[5] = frame.Format switch
        {
            FrameFormat.Fd => FdFlag,
            FrameFormat.FdSwitched => FdFlag | SwitchFlag,
            _ => 0,
        };
        frame.Data.CopyTo(packet.AsSpan(FrameHeaderSize));
        return packet;
    }
}
