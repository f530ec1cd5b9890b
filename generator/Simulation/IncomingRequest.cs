namespace Locum.Simulation;

/// <summary>A request of several frames while it comes in (rules A3 to A5).</summary>
internal sealed class IncomingRequest
{
    private const int Classic = 8;

    private readonly List<byte> _bytes;
    private readonly int _frameLength;
    private int _number;

    private IncomingRequest(long length, byte[] first)
    {
        Length = length;
        _frameLength = first.Length;
        _bytes = [.. first.Skip(2)];
    }

    /// <summary>Bytes that the first frame announces.</summary>
    public long Length { get; }

    /// <summary>Consecutive frames taken so far.</summary>
    public int Frames { get; private set; }

    public bool IsComplete => _bytes.Count == Length;

    public byte[] Bytes => [.. _bytes];

    /// <summary>What a single frame carries; null when it is malformed.</summary>
    public static byte[]? Single(byte[] frame)
    {
        if (frame.Length <= Classic)
            return frame[0] is >= 1 and <= 7 && frame[0] < frame.Length ? frame[1..(frame[0] + 1)] : null;
        return frame[0] is 0 && frame[1] >= 8 && frame[1] <= frame.Length - 2 ? frame[2..(frame[1] + 2)] : null;
    }

    /// <summary>What a first frame begins; null when it is malformed.</summary>
    public static IncomingRequest? Begin(byte[] frame)
    {
        if (frame.Length < Classic)
            return null;
        long length = (frame[0] & 0xF) << 8 | frame[1];
        var least = frame.Length is Classic ? 8 : frame.Length - 1;
        if (length is 0)
        {
            length = (long)frame[2] << 24 | (long)frame[3] << 16 | (long)frame[4] << 8 | frame[5];
            least = 0x1000;
        }
        return length < least ? null : new IncomingRequest(length, frame);
    }

    /// <summary>True when a consecutive frame is neither too short nor too long.</summary>
    public bool Fits(byte[] frame) => frame.Length <= _frameLength && frame.Length > Carried;

    /// <summary>Takes a consecutive frame that fits; false when it has the wrong number.</summary>
    public bool Add(byte[] frame)
    {
        _number = (_number + 1) % 16;
        if ((frame[0] & 0xF) != _number)
            return false;
        Frames++;
        _bytes.AddRange(frame.AsSpan(1, Carried));
        return true;
    }

    // Bytes in the next frame.
    private int Carried => (int)Math.Min(_frameLength - 1, Length - _bytes.Count);
}
