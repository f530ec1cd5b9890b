using System.Buffers.Binary;
using System.Text;

namespace Locum.Capture;

/// <summary>
/// Reads pcapng (IETF draft "PCAP Now Generic", from memory): any number of sections in either byte order, their
/// interfaces, enhanced, simple and old packet blocks. Other known blocks hold no packets and are passed over.
/// </summary>
internal sealed class PcapNgReader(ByteSource source, FrameIntake intake)
{
    public const uint SectionHeader = 0x0A0D0D0A;

    private const uint InterfaceDescription = 1;
    private const uint OldPacket = 2;
    private const uint SimplePacket = 3;
    private const uint EnhancedPacket = 6;

    private const uint Magic = 0x1A2B3C4D;
    private const uint SwappedMagic = 0x4D3C2B1A;

    private const int BlockHeader = 8;
    private const int Overhead = 12;
    private const int SectionLeast = 28;
    private const int InterfaceLeast = 8;
    private const int PacketLeast = 20;
    private const int SimpleLeast = 4;

    private const ushort OptionName = 2;
    private const ushort OptionResolution = 9;
    private const ushort OptionOffset = 14;

    private readonly List<PcapNgInterface> _interfaces = [];
    private bool _big;
    private long _packets;

    /// <summary>Packets so far.</summary>
    public long Packets => _packets;

    /// <summary>True when an interface was described that can carry CAN.</summary>
    public bool SawCan { get; private set; }

    public void Read()
    {
        while (source.Fill(Overhead))
        {
            source.Place = _packets + 1;
            var head = source.Window;
            uint type = Get32(head);
            // The type of a section header reads the same in both orders; the order of its length is told behind it.
            if (type is SectionHeader && Order(head) is { } big)
                (_big, type) = (big, SectionHeader);
            uint length = Get32(head[4..]);
            if (length < Overhead || length % 4 is not 0)
            {
                Resynchronise();
                continue;
            }

            if (length > ByteSource.Most)
                Huge(type, length);
            else if (!source.Fill((int)length))
                CutOff(type);
            else
                Block(type, (int)length);
        }

        if (source.Window.Length > 0)
            CutOff(0);
    }

    private static bool IsRead(uint type) =>
        type is SectionHeader or InterfaceDescription or OldPacket or SimplePacket or EnhancedPacket;

    // Blocks of names, statistics, journals, secrets, and of makers.
    private static bool IsKnown(uint type) => type is 4 or 5 or 9 or 10 or 0x0BAD or 0x4000_0BAD;

    private void Block(uint type, int length)
    {
        var body = source.Window[BlockHeader..(length - 4)];
        if (Get32(source.Window[(length - 4)..]) != (uint)length)
        {
            Resynchronise();
            return;
        }

        switch (type)
        {
            case SectionHeader:
                _interfaces.Clear();
                break;
            case InterfaceDescription:
                Interface(body);
                break;
            case SimplePacket:
                Simple(body);
                break;
            case OldPacket or EnhancedPacket:
                Packet(body, type is OldPacket);
                break;
            default:
                if (!IsKnown(type))
                    intake.Oddities.Add(OddityKind.UnknownBlock, _packets + 1);
                break;
        }

        source.Advance(length);
    }

    // Makers put anything into blocks of their own; a packet of this size is damage.
    private void Huge(uint type, uint length)
    {
        if (!IsKnown(type))
            Resynchronise();
        else if (!source.Skip(length))
            intake.Oddities.Add(OddityKind.TruncatedBetween, _packets + 1);
    }

    private void CutOff(uint type)
    {
        bool packet = type is OldPacket or SimplePacket or EnhancedPacket;
        if (packet)
            _packets++;
        intake.Oddities.Add(packet ? OddityKind.TruncatedEnd : OddityKind.TruncatedBetween, Math.Max(1, _packets));
        source.Skip(source.Window.Length);
    }

    private static bool? Order(ReadOnlySpan<byte> head) => BinaryPrimitives.ReadUInt32LittleEndian(head[8..]) switch
    {
        Magic => false,
        SwappedMagic => true,
        _ => null,
    };

    // What follows a senseless length is searched for the next block whose length stands at both its ends.
    private void Resynchronise()
    {
        intake.Oddities.Add(OddityKind.DamagedRest, _packets + 1);
        do
        {
            source.Advance(1);
        }
        while (source.Fill(Overhead) && !LooksLikeBlock());
        if (source.Window.Length < Overhead)
            source.Skip(source.Window.Length);
    }

    private bool LooksLikeBlock()
    {
        const int Usual = 64 * 1024;
        var head = source.Window;
        uint type = Get32(head);
        if (!IsRead(type) && !IsKnown(type))
            return false;
        bool big = type is SectionHeader ? Order(head) ?? _big : _big;
        uint length = big ? BinaryPrimitives.ReadUInt32BigEndian(head[4..]) : BinaryPrimitives.ReadUInt32LittleEndian(head[4..]);
        return length is >= Overhead and <= Usual && length % 4 is 0 && source.Fill((int)length)
            && source.Window[4..8].SequenceEqual(source.Window[((int)length - 4)..(int)length]);
    }

    private void Interface(ReadOnlySpan<byte> body)
    {
        if (body.Length < InterfaceLeast)
        {
            intake.Oddities.Add(OddityKind.BadInterface, _packets + 1);
            _interfaces.Add(new PcapNgInterface(-1, -1, PcapNgClock.Usual));
            return;
        }

        int linkType = Get16(body);
        byte resolution = 6;
        long offset = 0;
        var name = ReadOnlySpan<byte>.Empty;
        for (var options = body[InterfaceLeast..]; options.Length >= 4;)
        {
            int code = Get16(options);
            int size = Get16(options[2..]);
            if (code is 0 || size > options.Length - 4)
                break;
            var value = options.Slice(4, size);
            if (code is OptionName)
                name = value;
            else if (code is OptionResolution && size > 0)
                resolution = value[0];
            else if (code is OptionOffset && size >= 8)
                offset = _big ? BinaryPrimitives.ReadInt64BigEndian(value) : BinaryPrimitives.ReadInt64LittleEndian(value);
            options = options[Math.Min(options.Length, 4 + ((size + 3) & ~3))..];
        }

        bool can = LinkPacket.Carries(linkType);
        SawCan |= can;
        int bus = !can ? -1
            : LinkPacket.NamesBus(linkType) ? 0
            : intake.Bus(name.IsEmpty ? Encoding.ASCII.GetBytes($"interface {_interfaces.Count}") : name);
        _interfaces.Add(new PcapNgInterface(linkType, bus, new PcapNgClock(resolution, offset)));
    }

    private void Packet(ReadOnlySpan<byte> body, bool old)
    {
        _packets++;
        if (body.Length < PacketLeast)
        {
            intake.Oddities.Add(OddityKind.BadBlock, _packets);
            return;
        }

        uint number = old ? Get16(body) : Get32(body);
        ulong time = ((ulong)Get32(body[4..]) << 32) | Get32(body[8..]);
        Deliver(number, time, Get32(body[12..]), Get32(body[16..]), body[PacketLeast..]);
    }

    private void Simple(ReadOnlySpan<byte> body)
    {
        _packets++;
        if (body.Length < SimpleLeast)
        {
            intake.Oddities.Add(OddityKind.BadBlock, _packets);
            return;
        }

        uint whole = Get32(body);
        Deliver(0, null, (uint)Math.Min(whole, body.Length - SimpleLeast), whole, body[SimpleLeast..]);
    }

    private void Deliver(uint number, ulong? time, uint captured, uint whole, ReadOnlySpan<byte> bytes)
    {
        if (number >= _interfaces.Count)
        {
            intake.Oddities.Add(OddityKind.UnknownInterface, _packets);
            return;
        }

        if (captured > bytes.Length)
        {
            intake.Oddities.Add(OddityKind.BadBlock, _packets);
            return;
        }

        var from = _interfaces[(int)number];
        if (from.Bus < 0)
        {
            intake.Oddities.Add(OddityKind.ForeignPacket, _packets);
            return;
        }

        long? timeNs = time is { } t ? from.Clock.Nanoseconds(t) : null;
        long before = intake.Entries;
        LinkPacket.Take(from.LinkType, bytes[..(int)captured], whole, _big, timeNs ?? intake.PreviousNs, from.Bus, intake, _packets);
        if (timeNs is null && intake.Entries > before)
            intake.Oddities.Add(time is null ? OddityKind.NoTime : OddityKind.BadTime, _packets);
    }

    private ushort Get16(ReadOnlySpan<byte> bytes) =>
        _big ? BinaryPrimitives.ReadUInt16BigEndian(bytes) : BinaryPrimitives.ReadUInt16LittleEndian(bytes);

    private uint Get32(ReadOnlySpan<byte> bytes) =>
        _big ? BinaryPrimitives.ReadUInt32BigEndian(bytes) : BinaryPrimitives.ReadUInt32LittleEndian(bytes);
}
