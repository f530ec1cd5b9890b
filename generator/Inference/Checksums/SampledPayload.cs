using System.Runtime.CompilerServices;

namespace Locum.Inference.Checksums;

/// <summary>A payload with running sums, so that the sum or XOR of any stretch of bytes takes one step.</summary>
internal sealed class SampledPayload
{
    private readonly int[] _sum;
    private readonly int[] _nibbleSum;
    private readonly byte[] _xor;

    /// <summary>Copies a payload and sums it up.</summary>
    public SampledPayload(ReadOnlySpan<byte> payload)
    {
        Bytes = payload.ToArray();
        _sum = new int[payload.Length + 1];
        _nibbleSum = new int[payload.Length + 1];
        _xor = new byte[payload.Length + 1];
        for (int i = 0; i < payload.Length; i++)
        {
            _sum[i + 1] = _sum[i] + payload[i];
            _nibbleSum[i + 1] = _nibbleSum[i] + Nibbles(payload[i]);
            _xor[i + 1] = (byte)(_xor[i] ^ payload[i]);
        }
    }

    /// <summary>The payload.</summary>
    public byte[] Bytes { get; }

    /// <summary>What a plain rule makes of a range before its constant. The range is a stretch, apart from the place's own bits.</summary>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public uint Value(PlainKind kind, ByteRange range, ChecksumPlace place)
    {
        int first = range.Bytes[0];
        int end = range.Bytes[^1] + 1;
        int sum = kind switch
        {
            PlainKind.Sum or PlainKind.CarrySum => _sum[end] - _sum[first],
            PlainKind.NibbleSum => _nibbleSum[end] - _nibbleSum[first],
            _ => _xor[end] ^ _xor[first],
        };
        for (int own = Math.Max(first, place.FirstByte); own <= Math.Min(end - 1, place.LastByte); own++)
        {
            // What the running sum holds but the rule does not read.
            int excess = range.OwnZero ? Bytes[own] & place.Mask(own) : Bytes[own];
            sum = kind switch
            {
                PlainKind.Sum or PlainKind.CarrySum => sum - excess,
                PlainKind.NibbleSum => sum - Nibbles(excess),
                _ => sum ^ excess,
            };
        }

        return kind is PlainKind.NibbleXor ? (uint)((sum >> 4) ^ (sum & 15)) : (uint)sum;
    }

    private static int Nibbles(int value) => (value >> 4) + (value & 15);
}
