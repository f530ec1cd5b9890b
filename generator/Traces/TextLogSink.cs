using System.Buffers;
using System.Buffers.Text;
using System.Text;
using Locum.Capture;
using Locum.Wire;

namespace Locum.Traces;

/// <summary>
/// Frames as a text log, one line each: <c>(12.345678) front 2D1#00FF</c>. 29-bit identifiers have eight digits, remote
/// frames <c>#R</c> and their length, CAN FD <c>##</c> and a digit of flags, errors the identifier 20000000.
/// </summary>
public sealed class TextLogSink(Stream output) : IBusSink, IDisposable
{
    private const int Longest = 256;
    private const int Buffer = 64 * 1024;
    private const long NsPerSecond = 1_000_000_000;

    private readonly byte[] _buffer = new byte[Buffer];
    private readonly List<byte[]> _buses = [];
    private int _at;

    public void Bus(int number, string name)
    {
        // A blank would end the name.
        string word = string.Concat(name.Select(c => char.IsWhiteSpace(c) || char.IsControl(c) ? '_' : c));
        _buses.Add(Encoding.UTF8.GetBytes(word.Length is 0 ? "bus" : word.Length > 32 ? word[..32] : word));
    }

    public void Take(in CaptureFrame frame, ReadOnlySpan<byte> data)
    {
        if (_at > Buffer - Longest)
            Flush();
        var line = _buffer.AsSpan(_at, Longest);
        int at = 0;
        line[at++] = (byte)'(';
        at += Time(frame.TimeNs, line[at..]);
        line[at++] = (byte)')';
        line[at++] = (byte)' ';
        _buses[frame.Bus].CopyTo(line[at..]);
        at += _buses[frame.Bus].Length;
        line[at++] = (byte)' ';
        bool error = (frame.Traits & FrameTraits.Error) is not 0;
        bool extended = error || (frame.Traits & FrameTraits.Extended) is not 0;
        Utf8Formatter.TryFormat(error ? 0x2000_0000 : frame.Id, line[at..], out int written, new StandardFormat('X', (byte)(extended ? 8 : 3)));
        at += written;
        line[at++] = (byte)'#';
        at += Content(frame, data, line[at..]);
        line[at++] = (byte)'\n';
        _at += at;
    }

    /// <summary>Writes what is left. The stream stays open.</summary>
    public void Dispose() => Flush();

    private static int Content(in CaptureFrame frame, ReadOnlySpan<byte> data, Span<byte> line)
    {
        int at = 0;
        if ((frame.Traits & FrameTraits.Remote) is not 0)
        {
            line[at++] = (byte)'R';
            if (frame.Length > 0)
                line[at++] = (byte)('0' + frame.Length);
            return at;
        }

        if ((frame.Traits & FrameTraits.Fd) is not 0)
        {
            line[at++] = (byte)'#';
            int flags = ((frame.Traits & FrameTraits.RateSwitched) is not 0 ? 1 : 0) | ((frame.Traits & FrameTraits.ErrorPassive) is not 0 ? 2 : 0);
            line[at++] = (byte)('0' + flags);
        }

        Convert.TryToHexString(data, line[at..], out int written);
        return at + written;
    }

    // Six decimals, nine when there is something finer than microseconds.
    private static int Time(long timeNs, Span<byte> text)
    {
        int at = 0;
        ulong ns = (ulong)Math.Abs((decimal)timeNs);
        if (timeNs < 0)
            text[at++] = (byte)'-';
        Utf8Formatter.TryFormat(ns / (ulong)NsPerSecond, text[at..], out int written);
        at += written;
        text[at++] = (byte)'.';
        ulong fraction = ns % (ulong)NsPerSecond;
        bool fine = fraction % 1000 is not 0;
        Utf8Formatter.TryFormat(fine ? fraction : fraction / 1000, text[at..], out written, new StandardFormat('D', fine ? (byte)9 : (byte)6));
        return at + written;
    }

    private void Flush()
    {
        output.Write(_buffer, 0, _at);
        _at = 0;
    }
}
