namespace Locum.Capture;

/// <summary>A stream whose first bytes have been taken out to look at, put back in front.</summary>
internal sealed class PrefixedStream(ReadOnlyMemory<byte> prefix, Stream rest) : ForwardStream
{
    private ReadOnlyMemory<byte> _prefix = prefix;

    public override int Read(Span<byte> buffer)
    {
        if (_prefix.IsEmpty)
            return rest.Read(buffer);
        int count = Math.Min(buffer.Length, _prefix.Length);
        _prefix.Span[..count].CopyTo(buffer);
        _prefix = _prefix[count..];
        return count;
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
            rest.Dispose();
        base.Dispose(disposing);
    }
}
