using System.Buffers.Binary;
using Locum.Capture;

namespace Locum.Traces;

/// <summary>
/// Entries of a capture as pcapng with nanoseconds: one interface per bus, link type 227, described when its first entry
/// comes. Codes as in <see cref="PcapNgTrace"/>.
/// </summary>
public sealed class PcapNgSink : IBusSink
{
    private const byte Nanoseconds = 9;
    private const long NsPerSecond = 1_000_000_000;

    private const uint ExtendedFlag = 0x8000_0000;
    private const uint RemoteFlag = 0x4000_0000;
    private const uint ErrorFlag = 0x2000_0000;
    private const byte SwitchFlag = 0x01;
    private const byte PassiveFlag = 0x02;
    private const byte FdFlag = 0x04;
    private const int HeaderSize = 8;
    private const int ErrorLength = 8;

    private readonly Stream _output;
    private readonly List<string> _names = [];
    private int _described;
    private long? _offsetSeconds;

    /// <param name="output">Receives the file; stays open.</param>
    public PcapNgSink(Stream output)
    {
        _output = output;
        PcapNgTrace.WriteSectionHeader(output);
    }

    /// <summary>Entries so much earlier than the first that the format cannot say it; they have the earliest time it can.</summary>
    public long Early { get; private set; }

    public void Bus(int number, string name) => _names.Add(name);

    public void Take(in CaptureFrame frame, ReadOnlySpan<byte> data)
    {
        // Times count from an offset that may lie before 1970, but do not run below it.
        _offsetSeconds ??= frame.TimeNs >= 0 ? 0 : (frame.TimeNs / NsPerSecond) - 1;
        while (_described < _names.Count)
            Describe(_names[_described++]);
        var time = (Int128)frame.TimeNs - ((Int128)_offsetSeconds.Value * NsPerSecond);
        if (time < 0)
        {
            Early++;
            time = 0;
        }

        PcapNgTrace.WritePacket(_output, (uint)frame.Bus, (ulong)time, Packet(frame, data), "");
    }

    private void Describe(string name)
    {
        Span<byte> offset = stackalloc byte[sizeof(long)];
        BinaryPrimitives.WriteInt64LittleEndian(offset, _offsetSeconds!.Value);
        PcapNgTrace.WriteInterface(_output, name, Nanoseconds, _offsetSeconds is 0 ? [] : offset);
    }

    private static byte[] Packet(in CaptureFrame frame, ReadOnlySpan<byte> data)
    {
        bool error = (frame.Traits & FrameTraits.Error) is not 0;
        var packet = new byte[HeaderSize + (error ? ErrorLength : data.Length)];
        uint id = frame.Id
            | ((frame.Traits & FrameTraits.Extended) is not 0 ? ExtendedFlag : 0)
            | ((frame.Traits & FrameTraits.Remote) is not 0 ? RemoteFlag : 0)
            | (error ? ErrorFlag : 0);
        BinaryPrimitives.WriteUInt32BigEndian(packet, id);
        packet[4] = error ? (byte)ErrorLength : frame.Length;
        if ((frame.Traits & FrameTraits.Fd) is not 0)
        {
            packet[5] = (byte)(FdFlag
                | ((frame.Traits & FrameTraits.RateSwitched) is not 0 ? SwitchFlag : 0)
                | ((frame.Traits & FrameTraits.ErrorPassive) is not 0 ? PassiveFlag : 0));
        }

        data.CopyTo(packet.AsSpan(HeaderSize));
        return packet;
    }
}
