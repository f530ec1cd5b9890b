namespace Locum.Tests.Unit.Capture;

/// <summary>A stream that gives a head and then the same part again and again, made while it is read.</summary>
internal sealed class Repeated(byte[] head, byte[] part, long length) : Stream
{
    private long _at;

    public override bool CanRead => true;

    public override bool CanSeek => false;

    public override bool CanWrite => false;

    public override long Length => throw new NotSupportedException();

    public override long Position
    {
        get => _at;
        set => throw new NotSupportedException();
    }

    public override int Read(Span<byte> buffer)
    {
        int count = (int)Math.Min(buffer.Length, length - _at);
        if (count <= 0)
            return 0;
        var from = _at < head.Length ? head.AsSpan((int)_at) : part.AsSpan((int)((_at - head.Length) % part.Length));
        count = Math.Min(count, from.Length);
        from[..count].CopyTo(buffer);
        _at += count;
        return count;
    }

    public override int Read(byte[] buffer, int offset, int count) => Read(buffer.AsSpan(offset, count));

    public override void Flush()
    {
    }

    public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

    public override void SetLength(long value) => throw new NotSupportedException();

    public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
}
