namespace Locum.Capture;

/// <summary>A stream that tells how many bytes were read from it.</summary>
internal sealed class WatchedStream(Stream inner, Action<long> told) : ForwardStream
{
    private long _read;

    public override int Read(Span<byte> buffer)
    {
        int read = inner.Read(buffer);
        _read += read;
        told(_read);
        return read;
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
            inner.Dispose();
        base.Dispose(disposing);
    }
}
