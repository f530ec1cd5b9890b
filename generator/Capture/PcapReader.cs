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
    private const uint UsualBytes = 96;

    // Seconds between neighbours, when a place is judged where packets might go on.
    private const uint NearSeconds = 24 * 3600;

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
            if (IsDamaged(captured, Get32(source.Window[12..])))
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
            if (IsDamaged(captured, Get32(head[12..])) || window.Length - at - PacketHeader < captured)
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

    // More than a CAN packet of any kind has, and more than was on the bus: neighbours would be swallowed.
    private static bool IsDamaged(uint captured, uint whole) => captured > MostBytes || (captured > whole && captured > UsualBytes);

    // What follows a senseless length is searched for three headers in a row that could be packets'.
    private void Resynchronise()
    {
        intake.Oddities.Add(OddityKind.DamagedRest, _packets + 1);
        do
        {
            source.Advance(1);
        }
        while (source.Fill(PacketHeader) && !LooksLikePackets());
    }

    private bool LooksLikePackets()
    {
        const int Row = 3;
        int at = 0;
        for (int i = 0; i < Row; i++)
        {
            // The file may end behind the first.
            if (!source.Fill(at + PacketHeader))
                return i > 0 && source.Window.Length == at;
            var head = source.Window[at..];
            uint captured = Get32(head[8..]);
            uint whole = Get32(head[12..]);
            bool near = _packets is 0 || Get32(head) - _lastSecond + NearSeconds <= 2 * NearSeconds;
            bool sound = near && Get32(head[4..]) < NsPerSecond / _unitNs && captured is >= SocketCanPacket.HeaderSize and <= UsualBytes && captured <= whole && whole <= MostBytes;
            if (!sound)
                return false;
            at += PacketHeader + (int)captured;
        }

        return true;
    }

    private static bool IsMagic(uint word) => word is Micro or Nano;

    private uint Get32(ReadOnlySpan<byte> bytes) =>
        _big ? BinaryPrimitives.ReadUInt32BigEndian(bytes) : BinaryPrimitives.ReadUInt32LittleEndian(bytes);
}
