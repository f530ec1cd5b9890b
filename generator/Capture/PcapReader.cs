using System.Buffers.Binary;

namespace Locum.Capture;

/// <summary>
/// Reads classic pcap (the format of libpcap, from memory): both byte orders, micro- and nanoseconds.
/// </summary>
internal sealed class PcapReader(ByteSource source, FrameIntake intake)
{
    private const uint Micro = 0xA1B2_C3D4;
    private const uint Nano = 0xA1B2_3C4D;
    private const int FileHeader = 24;
    private const int LinkTypeAt = 20;
    private const uint LinkTypeMask = 0x0FFF_FFFF;
    private const int PacketHeader = 16;
    private const long NsPerSecond = 1_000_000_000;

    // No CAN packet comes near; what claims to be longer is damage.
    private const uint MostBytes = 256 * 1024;

    // Seconds between neighbours, when a place is judged where packets might go on.
    private const uint NearSeconds = 7 * 24 * 3600;

    private static ReadOnlySpan<byte> BusName => BusBook.Unnamed;

    private bool _big;
    private int _linkType;
    private int _unitNs;
    private long _packets;
    private uint _lastSecond;

    /// <summary>Packets so far.</summary>
    public long Packets => _packets;

    /// <summary>True when the link type can carry CAN.</summary>
    public bool SawCan => LinkPacket.Carries(_linkType);

    /// <summary>True when a file starts like this.</summary>
    public static bool Starts(ReadOnlySpan<byte> head) =>
        head.Length >= 4 && (IsMagic(BinaryPrimitives.ReadUInt32LittleEndian(head)) || IsMagic(BinaryPrimitives.ReadUInt32BigEndian(head)));

    public void Read()
    {
        if (!source.Fill(FileHeader))
        {
            intake.Oddities.Add(OddityKind.TruncatedBetween, 1);
            return;
        }

        _big = IsMagic(BinaryPrimitives.ReadUInt32BigEndian(source.Window));
        _unitNs = Get32(source.Window) is Nano ? 1 : 1000;
        _linkType = (int)(Get32(source.Window[LinkTypeAt..]) & LinkTypeMask);
        int bus = SawCan && !LinkPacket.NamesBus(_linkType) ? intake.Bus(BusName) : 0;
        source.Advance(FileHeader);
        while (true)
        {
            Whole(bus);
            if (!source.Fill(PacketHeader))
                break;
            uint captured = Get32(source.Window[8..]);
            if (captured > MostBytes)
                Resynchronise();
            else if (!source.Fill(PacketHeader + (int)captured))
                break;
        }

        if (source.Window.Length > 0)
        {
            _packets++;
            intake.Oddities.Add(OddityKind.TruncatedEnd, _packets);
            source.Advance(source.Window.Length);
        }
    }

    // Every packet that lies wholly in the window.
    private void Whole(int bus)
    {
        var window = source.Window;
        int at = 0;
        while (window.Length - at >= PacketHeader)
        {
            var head = window.Slice(at, PacketHeader);
            uint captured = Get32(head[8..]);
            if (captured > MostBytes || window.Length - at - PacketHeader < captured)
                break;
            _packets++;
            source.Place = _packets;
            _lastSecond = Get32(head);
            long timeNs = (_lastSecond * NsPerSecond) + ((long)Get32(head[4..]) * _unitNs);
            LinkPacket.Take(
                _linkType, window.Slice(at + PacketHeader, (int)captured), Get32(head[12..]), _big, timeNs, bus, intake, _packets);
            at += PacketHeader + (int)captured;
        }

        source.Advance(at);
    }

    // What follows a senseless length is searched for two headers in a row that could be a packet's.
    private void Resynchronise()
    {
        intake.Oddities.Add(OddityKind.DamagedRest, _packets + 1);
        do
        {
            source.Advance(1);
        }
        while (source.Fill(PacketHeader) && !(LooksLikePacket(0) is var first and > 0 && LooksLikePacket(first) is not 0));
    }

    // Bytes up to the next packet; 0 when no packet starts here, -1 when the file ends behind it.
    private int LooksLikePacket(int at)
    {
        const int Most = 2048;
        if (!source.Fill(at + PacketHeader))
            return source.Window.Length == at ? -1 : 0;
        var head = source.Window[at..];
        uint second = Get32(head);
        uint fraction = Get32(head[4..]);
        uint captured = Get32(head[8..]);
        bool near = _packets is 0 || (second - _lastSecond + NearSeconds) <= 2 * NearSeconds;
        return near && fraction < NsPerSecond / _unitNs && captured is > 0 and <= Most && captured <= Get32(head[12..])
            ? at + PacketHeader + (int)captured : 0;
    }

    private static bool IsMagic(uint word) => word is Micro or Nano;

    private uint Get32(ReadOnlySpan<byte> bytes) =>
        _big ? BinaryPrimitives.ReadUInt32BigEndian(bytes) : BinaryPrimitives.ReadUInt32LittleEndian(bytes);
}
