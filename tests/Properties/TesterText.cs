using System.Globalization;
using Locum.Wire;

namespace Locum.Tests.Properties;

/// <summary>
/// Random testers: conversations that keep to the protocol as far as somebody can who does not hear the answers, and
/// some that break it. Whether the module is awake, busy or silent then is left to chance.
/// </summary>
internal sealed class TesterText
{
    private static readonly int[] s_fdLengths = [12, 16, 20, 24, 32, 48, 64];

    private readonly Dice _dice;
    private readonly DrawnChannel _channel;
    private readonly List<string> _frames = [];
    private readonly long _end;
    private long _at;

    private TesterText(Dice dice, DrawnChannel channel, long end) => (_dice, _channel, _end) = (dice, channel, end);

    /// <summary>Single frames as a stimulus writes them.</summary>
    /// <param name="end">Length of the stimulus, µs.</param>
    public static IReadOnlyList<string> Draw(Dice dice, DrawnChannel channel, long end)
    {
        var tester = new TesterText(dice, channel, end);
        var talks = dice.Between(0, 16);
        tester._at = dice.Between(0, end / 4);
        for (var i = 0; i < talks && tester._at < end; i++)
        {
            tester.Talk();
            tester.Pause(dice.Chance(92) ? dice.Between(500, 40_000) : dice.Pick(999_000L, 1_000_000, 1_001_000, 4_990_000, 5_100_000));
        }
        return tester._frames;
    }

    private void Talk()
    {
        switch (_dice.Between(0, 12))
        {
            case <= 5:
                Read();
                break;
            case <= 7:
                Send(Single(Service()), _dice.Chance(30));
                break;
            case 8:
                Long([0x22, .. Many(_dice.Between(6, 62))]);
                break;
            case 9:
                Long(Asked());
                Flows();
                break;
            default:
                Break();
                break;
        }
    }

    // What is described, mostly, and enough flow controls for the answer.
    private void Read()
    {
        Send(Single(Asked()), _dice.Chance(15));
        Flows();
    }

    private byte[] Asked()
    {
        var numbers = Enumerable.Range(0, _dice.Chance(70) ? 1 : _dice.Between(2, 8))
            .Select(_ => _channel.Identifiers.Count > 0 && _dice.Chance(90) ? _dice.Pick(_channel.Identifiers).Number : (ushort)_dice.Bits(16));
        return [0x22, .. numbers.SelectMany(n => new[] { (byte)(n >> 8), (byte)n })];
    }

    private byte[] Service() => _dice.Between(0, 7) switch
    {
        0 => [0x3E, _dice.Pick<byte>(0, 0x80)],
        1 => [0x10, _dice.Pick<byte>(1, 2, 3, 0x83, 0x82)],
        2 => [0x11, _dice.Pick<byte>(1, 2, 3, 0x81, 4)],
        3 => [0x14, 0xFF, 0xFF, _dice.Pick<byte>(0xFF, 0xFF, 0x33)],
        4 => [0x19, _dice.Pick<byte>(1, 2, 0x0A), 0xFF],
        5 => [0x27, _dice.Pick<byte>(1, 2)],
        6 => [0x85, _dice.Pick<byte>(1, 2, 0x82)],
        _ => [.. Many(_dice.Between(1, 7))],
    };

    // A single frame; long ones only fit into CAN FD, or are sent as a first frame instead.
    private byte[] Single(byte[] request)
    {
        if (request.Length <= 7)
            return [(byte)request.Length, .. request];
        return _channel.Fd ? [0, (byte)request.Length, .. request] : [0x10, (byte)request.Length, .. request[..6]];
    }

    private void Long(byte[] request)
    {
        var longest = _channel.Fd && _dice.Chance(60) ? _dice.Pick(s_fdLengths) : 8;
        if (request.Length < (longest > 8 ? longest - 1 : 8))
        {
            Send(Single(request), false);
            return;
        }
        Send([0x10, (byte)request.Length, .. request[..(longest - 2)]], false);
        Pause(_dice.Between(1_000, 12_000));
        var number = 0;
        foreach (var part in request.Skip(longest - 2).Chunk(longest - 1))
        {
            Send([(byte)(0x20 | ++number % 16), .. part], false);
            var blockEnds = _channel.BlockSize > 0 && number % _channel.BlockSize is 0;
            Pause(blockEnds ? _dice.Between(1_000, 12_000) : _dice.Between(300, 4_000));
        }
    }

    private void Flows()
    {
        if (_dice.Chance(85))
            Pause(_channel.LongestUs);
        for (var i = _dice.Between(1, 3); i > 0; i--)
        {
            Pause(_dice.Chance(85) ? _dice.Between(1_000, 12_000) : _dice.Between(20_000, 300_000));
            Send([_dice.Pick<byte>(0x30, 0x30, 0x30, 0x30, 0x31), (byte)(_dice.Chance(60) ? 0 : _dice.Between(1, 4)), _dice.Pick<byte>(0, 0, 0, 1, 10, 0xF1, 0xF9, 0x7F)], false);
        }
    }

    private void Break()
    {
        byte[] first = [0x10, (byte)_dice.Between(8, 64), 0x22, .. Many(5)];
        List<byte[]> frames = _dice.Between(0, 7) switch
        {
            0 => [first, [0x21, .. Many(7)], [_dice.Pick<byte>(0x23, 0x21, 0x20, 0x2F), .. Many(7)]],
            1 => [Single(Asked()), [0x30, 0], [0x30]],
            2 => [first, [0x21, .. Many(7)], [0x10, 9, 0x22, .. Many(5)], [0x21, .. Many(7)]],
            3 => [[_dice.Pick<byte>(0x20, 0x21, 0x30, 0x31, 0x32), .. Many(7)]],
            4 => [[(byte)_dice.Between(0x40, 0xFF), .. Many(_dice.Between(0, 7))]],
            5 => [first, Single(Service())],
            6 => [Single(Asked()), [_dice.Pick<byte>(0x32, 0x33, 0x3F), 0, 0], Single(Service())],
            _ => [[0x10, _dice.Pick<byte>(0, 0, 7, 65, 255), .. Many(6)], [.. Many(_dice.Between(0, 8))], [0, .. Many(_channel.Fd ? 11 : 7)]],
        };
        foreach (var frame in frames)
        {
            Send(frame, _dice.Chance(10));
            Pause(_dice.Between(300, 15_000));
        }
    }

    private IEnumerable<byte> Many(int count) => Enumerable.Range(0, count).Select(_ => (byte)_dice.Bits(8));

    private void Pause(long us) => _at += us;

    private void Send(byte[] data, bool functional)
    {
        if (_at >= _end)
            return;
        var id = functional && _channel.Functional is { } all ? all : _channel.Request;
        // On a bus with CAN FD a short frame may be either.
        var fd = data.Length > 8 || (_channel.Bus.DataRate is not null && _dice.Chance(50));
        var length = data.Length > 8 ? FdLengths.AtLeast(data.Length) : _dice.Chance(40) ? 8 : data.Length;
        var row = string.Join(' ', data.Concat(Enumerable.Repeat((byte)0xCC, length - data.Length)).Select(b => b.ToString("X2", CultureInfo.InvariantCulture)));
        _frames.Add($"{{id: 0x{id.Value:X}, id kind: {(id.Extended ? "29 bit" : "11 bit")}{(fd ? ", format: fd" : "")}{(fd && _dice.Chance(30) ? ", switch rate: no" : "")}, at: {_at} us, data: {row}}}");
    }
}
