namespace Locum.Capture;

/// <summary>Text whose lines end with a carriage return alone, with line feeds instead.</summary>
internal sealed class CarriageStream(Stream inner) : ForwardStream
{
    public override int Read(Span<byte> buffer)
    {
        int read = inner.Read(buffer);
        buffer[..read].Replace((byte)'\r', (byte)'\n');
        return read;
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
            inner.Dispose();
        base.Dispose(disposing);
    }
}
