using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using Locum.Wire;

namespace Locum.Capture;

/// <summary>
/// Reads text logs, lines of the form <c>(12.345678) front 2D1#00FF</c>: seconds, bus, identifier and data, in
/// hexadecimal, as user-space tools for CAN under Linux write them. The usual line is read in one pass over its bytes,
/// without looking for its end first; any other goes to <see cref="TextLogLine"/>.
/// </summary>
internal sealed class TextLogReader(ByteSource source, FrameIntake intake, TextLogLine general, long before) : LineReader(source, intake, before)
{
    // A usual line is shorter; so much can be looked at without asking where the window ends.
    private const int Reach = 96;
    private const int FractionDigits = 6;
    private const int MostSeconds = 17;
    private const long NsPerSecond = 1_000_000_000;
    private const int ShortId = 3;
    private const int LongId = 8;

    private readonly byte[] _data = new byte[FdLengths.Most];
    private ulong _seconds;
    private ulong _secondsMask;
    private ulong _moreSeconds;
    private ulong _moreSecondsMask;
    private int _dot;
    private long _secondsNs;
    private readonly BusCache _buses = new(intake);

    protected override int Lines(ReadOnlySpan<byte> window, int length)
    {
        int at = 0;
        while (true)
        {
            if (length - at >= Reach)
            {
                int used = Usual(window.Slice(at, Reach));
                if (used > 0)
                {
                    at += used;
                    continue;
                }
            }

            int end = window[at..length].IndexOf((byte)'\n');
            if (end < 0)
                return at;
            Line++;
            if (!IsTooLong(end))
                General(window.Slice(at, end));
            at += end + 1;
        }
    }

    protected override void LastLine(ReadOnlySpan<byte> line) => general.Read(line, Line, last: true);

    // The seconds of a general line are looked for in the lines behind it.
    private void General(ReadOnlySpan<byte> line)
    {
        general.Read(line, Line, last: false);
        int dot = line.IndexOf((byte)'.');
        if (dot is < 2 or > MostSeconds || line[0] is not (byte)'(' || Digits.Decimal(line[1..dot]) is not { } seconds || seconds > long.MaxValue / (2 * NsPerSecond))
            return;
        Span<byte> padded = stackalloc byte[2 * sizeof(ulong)];
        padded.Clear();
        line[1..dot].CopyTo(padded);
        _seconds = BinaryPrimitives.ReadUInt64LittleEndian(padded);
        _moreSeconds = BinaryPrimitives.ReadUInt64LittleEndian(padded[sizeof(ulong)..]);
        _secondsMask = Mask(dot - 1);
        _moreSecondsMask = Mask(dot - 1 - sizeof(ulong));
        _secondsNs = (long)seconds * NsPerSecond;
        _dot = dot;
    }

    // The lowest so many bytes.
    private static ulong Mask(int bytes) => bytes <= 0 ? 0 : bytes >= sizeof(ulong) ? ulong.MaxValue : (1ul << (8 * bytes)) - 1;

    // Bytes of the line with its end; 0 when it is not a usual one. Reach is beyond every byte that is looked at here.
    private int Usual(ReadOnlySpan<byte> text)
    {
        int dot = _dot;
        ulong seconds = (BinaryPrimitives.ReadUInt64LittleEndian(text[1..]) ^ _seconds) & _secondsMask;
        ulong more = (BinaryPrimitives.ReadUInt64LittleEndian(text[9..]) ^ _moreSeconds) & _moreSecondsMask;
        if ((seconds | more) is not 0 || dot is 0 || text[0] is not (byte)'(' || text[dot] is not (byte)'.')
            return 0;
        int fraction = Fraction(BinaryPrimitives.ReadUInt64LittleEndian(text[(dot + 1)..]));
        if (fraction < 0)
            return 0;
        int at = dot + FractionDigits + 3;
        int width = _buses.Find(BinaryPrimitives.ReadUInt64LittleEndian(text[at..]), out int bus);
        if (width is 0)
            return 0;
        at += width + 1;
        uint id;
        var traits = FrameTraits.None;
        if (text[at + ShortId] is (byte)'#')
        {
            id = Short(text[at..]);
            if (id > CanId.MaxStandard)
                return 0;
            at += ShortId + 1;
        }
        else if (text[at + LongId] is (byte)'#')
        {
            if (Digits.Decode(text.Slice(at, Digits.Block), _data) is not LongId)
                return 0;
            id = BinaryPrimitives.ReadUInt32BigEndian(_data);
            if (id > CanId.MaxExtended || (id <= CanId.MaxStandard && !general.EightDigitsAreExtended))
                return 0;
            traits = FrameTraits.Extended;
            at += LongId + 1;
        }
        else
        {
            return 0;
        }

        int digits = Digits.Decode(text.Slice(at, Digits.Block), _data);
        at += digits;
        if ((digits & 1) is not 0 || text[at] is not (byte)'\n')
            return 0;
        Line++;
        Intake.Take(new CaptureFrame(_secondsNs + (fraction * 1000L), bus, id, traits, (byte)(digits / 2)), _data.AsSpan(0, digits / 2), Line);
        return at + 1;
    }

    // Three digits; more than any identifier when one of them is none.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static uint Short(ReadOnlySpan<byte> text)
    {
        uint a = (uint)Digits.Value(text[0]);
        uint b = (uint)Digits.Value(text[1]);
        uint c = (uint)Digits.Value(text[2]);
        return (a | b | c) > 15 ? uint.MaxValue : (a << 8) | (b << 4) | c;
    }

    // "dddddd) " as a number, -1 for anything else: all eight characters at once, pairs of digits, then pairs of pairs.
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static int Fraction(ulong text)
    {
        const ulong Zeros = 0x2029_3030_3030_3030;
        ulong digits = text ^ Zeros;
        if (((digits | (digits + 0x0000_0606_0606_0606)) & 0xFFFF_F0F0_F0F0_F0F0) is not 0)
            return -1;
        ulong pairs = (digits * 10) + (digits >> 8);
        uint first = (uint)pairs & 0xFF;
        uint second = (uint)(pairs >> 16) & 0xFF;
        uint third = (uint)(pairs >> 32) & 0xFF;
        return (int)((first * 10_000) + (second * 100) + third);
    }
}
