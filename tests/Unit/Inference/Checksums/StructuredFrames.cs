using Locum.Capture;
using Locum.Wire;

namespace Locum.Tests.Unit.Inference.Checksums;

/// <summary>
/// Drawn frames without a checksum, made of what real frames are made of: constants, counters, copies and complements of
/// them, drifting signals, bits that toggle now and then, timers, averages, page numbers, noise.
/// </summary>
internal sealed class StructuredFrames
{
    private readonly Random _random;
    private readonly byte[] _payload;
    private readonly List<Action> _steps = [];
    private readonly List<Func<long>> _signals = [];
    private int _bit;

    private StructuredFrames(int seed)
    {
        _random = new Random(seed);
        _payload = new byte[_random.Next(5) is 0 ? _random.Next(3, 8) : 8];
        _random.NextBytes(_payload);
        while (_bit < (_payload.Length * 8) - 3)
            Field();
    }

    /// <summary>60 to 600 frames of one identifier.</summary>
    public static FrameSeries Draw(int seed)
    {
        var frames = new StructuredFrames(seed);
        int count = new[] { 60, 150, 300, 600 }[frames._random.Next(4)];
        var id = frames._random.Next(4) is 0 ? new CanId((uint)frames._random.Next(0x1FFF_FFFF), true) : new CanId((uint)frames._random.Next(0x800), false);
        return Sent.Of(id, Enumerable.Range(0, count).Select(_ => frames.Next()));
    }

    private byte[] Next()
    {
        foreach (var step in _steps)
            step();
        return [.. _payload];
    }

    private void Field()
    {
        switch (_random.Next(14))
        {
            case 0:
                Counter(new[] { 2, 4, 8 }[_random.Next(3)]);
                break;
            case 1 when _signals.Count > 0:
                Copy();
                break;
            case 2 or 3:
                Drift(new[] { 8, 10, 12, 16 }[_random.Next(4)]);
                break;
            case 4:
                Toggle();
                break;
            case 5:
                Timer(new[] { 16, 24 }[_random.Next(2)]);
                break;
            case 6 when _signals.Count > 1:
                var (a, b) = (Any(), Any());
                Add(8, () => (a() + b()) / 2);
                break;
            case 7:
                Add(8, () => _random.Next(256));
                break;
            default:
                _bit += _random.Next(1, 9);
                break;
        }
    }

    private void Counter(int bits)
    {
        int wrap = bits is 4 && _random.Next(2) is 0 ? 15 : 1 << bits;
        int step = _random.Next(5) is 0 ? _random.Next(1, 4) : 1;
        long value = _random.Next(wrap);
        Add(bits, () => value = (value + step) % wrap);
    }

    private void Copy()
    {
        var source = Any();
        int constant = _random.Next(256);
        int way = _random.Next(4);
        Add(_random.Next(2) is 0 ? 4 : 8, () => way switch
        {
            0 => source() + constant,
            1 => source() ^ constant,
            2 => constant - source(),
            _ => source(),
        });
    }

    private void Drift(int bits)
    {
        double value = _random.Next(1 << bits);
        double speed = Math.Pow(10, (_random.NextDouble() * 3) - 1);
        Add(bits, () => (long)(value += (_random.NextDouble() - 0.5) * speed));
    }

    private void Toggle()
    {
        double chance = 1.0 / _random.Next(5, 300);
        long value = 0;
        Add(1, () => value ^= _random.NextDouble() < chance ? 1 : 0);
    }

    private void Timer(int bits)
    {
        long value = _random.Next(1 << bits);
        int step = _random.Next(1, 40);
        Add(bits, () => value += step);
    }

    private Func<long> Any() => _signals[_random.Next(_signals.Count)];

    private void Add(int bits, Func<long> next)
    {
        int first = _bit;
        _bit += bits;
        if (_bit > _payload.Length * 8)
            return;
        long last = 0;
        _signals.Add(() => last);
        _steps.Add(() =>
        {
            last = next();
            for (int i = 0; i < bits; i++)
            {
                int at = first + i;
                _payload[at / 8] = (byte)((_payload[at / 8] & ~(1 << (at % 8))) | ((int)((last >> i) & 1) << (at % 8)));
            }
        });
    }
}
