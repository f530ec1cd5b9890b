using System.Buffers;

namespace Locum.Capture;

/// <summary>
/// A stream through a window of bytes in a pooled buffer. Behind the window there are always
/// <see cref="Slack"/> more bytes that may be read, though they mean nothing.
/// </summary>
internal sealed class ByteSource(Stream stream, Oddities oddities) : IDisposable
{
    /// <summary>Bytes behind the window that can be read without harm.</summary>
    public const int Slack = 64;

    /// <summary>The window grows up to this: longer lines and packets do not exist.</summary>
    public const int Most = 16 * 1024 * 1024;

    private const int Usual = 256 * 1024;

    private byte[] _buffer = ArrayPool<byte>.Shared.Rent(Usual + Slack);
    private int _start;
    private int _end;
    private long _before;

    /// <summary>Bytes read and not yet used.</summary>
    public ReadOnlySpan<byte> Window => _buffer.AsSpan(_start, _end - _start);

    /// <summary>The window with the slack behind it.</summary>
    public ReadOnlySpan<byte> WindowAndSlack => _buffer.AsSpan(_start, _end - _start + Slack);

    /// <summary>Nothing more follows the window.</summary>
    public bool Ended { get; private set; }

    /// <summary>Place of the window in the stream.</summary>
    public long Position => _before + _start;

    /// <summary>Where reading failed, if it did, is counted as this line or packet.</summary>
    public long Place { get; set; } = 1;

    /// <summary>Gives up the first bytes of the window.</summary>
    public void Advance(int count) => _start += count;

    /// <summary>Reads until the window has so many bytes; false when the stream ends before.</summary>
    /// <param name="count">Up to <see cref="Most"/>.</param>
    public bool Fill(int count)
    {
        while (_end - _start < count && !Ended)
            Read(count);
        return _end - _start >= count;
    }

    /// <summary>Reads at least one byte more; false when the stream has ended, or the window can grow no further.</summary>
    public bool More()
    {
        int before = _end - _start;
        if (before >= Most)
            return false;
        return Fill(before + 1);
    }

    /// <summary>Passes over bytes without keeping them; false when the stream ends before.</summary>
    public bool Skip(long count)
    {
        while (true)
        {
            int part = (int)Math.Min(count, _end - _start);
            _start += part;
            count -= part;
            if (count is 0)
                return true;
            if (!Fill(1))
                return false;
        }
    }

    public void Dispose()
    {
        ArrayPool<byte>.Shared.Return(_buffer);
        _buffer = [];
        stream.Dispose();
    }

    private void Read(int count)
    {
        MakeRoom(count);
        int read = 0;
        try
        {
            read = stream.Read(_buffer, _end, _buffer.Length - Slack - _end);
        }
        catch (InvalidDataException)
        {
            oddities.Add(OddityKind.CompressedEndDamaged, Place);
        }
        catch (IOException)
        {
            oddities.Add(OddityKind.ReadBrokeOff, Place);
        }

        if (read is 0)
            Ended = true;
        _end += read;
    }

    private void MakeRoom(int count)
    {
        int kept = _end - _start;
        if (_start > 0)
        {
            _buffer.AsSpan(_start, kept).CopyTo(_buffer);
            _before += _start;
            _start = 0;
            _end = kept;
        }

        if (Math.Max(count, kept + 1) + Slack <= _buffer.Length)
            return;
        byte[] larger = ArrayPool<byte>.Shared.Rent(Math.Max(count, 2 * kept) + Slack);
        _buffer.AsSpan(0, kept).CopyTo(larger);
        ArrayPool<byte>.Shared.Return(_buffer);
        _buffer = larger;
    }
}
