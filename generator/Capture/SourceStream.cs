namespace Locum.Capture;

/// <summary>What is left of a source, as a stream, for conversions.</summary>
internal sealed class SourceStream(ByteSource source) : ForwardStream
{
    public override int Read(Span<byte> buffer)
    {
        source.Fill(1);
        var window = source.Window;
        int count = Math.Min(buffer.Length, window.Length);
        window[..count].CopyTo(buffer);
        source.Advance(count);
        return count;
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
            source.Dispose();
        base.Dispose(disposing);
    }
}
