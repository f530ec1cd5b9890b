using System.Text;

namespace Locum.Capture;

/// <summary>UTF-16 text as UTF-8.</summary>
internal sealed class Utf16Stream(Stream inner, bool bigEndian) : ForwardStream
{
    private const int Part = 16 * 1024;

    private readonly Decoder _decoder = (bigEndian ? Encoding.BigEndianUnicode : Encoding.Unicode).GetDecoder();
    private readonly byte[] _bytes = new byte[Part];
    private readonly char[] _characters = new char[Part];
    private byte[] _ready = [];
    private int _at;
    private bool _ended;

    public override int Read(Span<byte> buffer)
    {
        while (_at == _ready.Length && !_ended)
        {
            int read = inner.Read(_bytes);
            _ended = read is 0;
            int characters = _decoder.GetChars(_bytes, 0, read, _characters, 0, _ended);
            _ready = Encoding.UTF8.GetBytes(_characters, 0, characters);
            _at = 0;
        }

        int count = Math.Min(buffer.Length, _ready.Length - _at);
        _ready.AsSpan(_at, count).CopyTo(buffer);
        _at += count;
        return count;
    }

    protected override void Dispose(bool disposing)
    {
        if (disposing)
            inner.Dispose();
        base.Dispose(disposing);
    }
}
