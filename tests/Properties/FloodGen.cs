using System.Text;
using CsCheck;
using Locum.Wire;

namespace Locum.Tests.Properties;

/// <summary>A module with a channel, and testers that keep to no protocol: right, wrong, cut and random frames at any distance.</summary>
internal sealed class FloodGen : Gen<GeneratedProject>
{
    private const int Frames = 300;

    public override GeneratedProject Generate(PCG pcg, Size? min, out Size size)
    {
        var dice = new Dice(pcg);
        var fd = dice.Chance(40);
        var project = new GeneratedProject([Module(dice, fd)], [Stimulus(dice, fd)]);
        size = new Size((ulong)project.ToString().Length);
        return project;
    }

    private static string Module(Dice dice, bool fd) => $$"""
        locum: 1
        module: m
        hazard: none
        buses: {b: {rate: 500 kbit/s{{(fd ? ", data rate: 2 Mbit/s" : "")}}} }
        modes: {on: {for: {{dice.Between(1, 4)}} s, then: off}, off: {sleep: yes, for: 30 ms, then: on} }
        frames:
          Busy: {id: 0x7F0, length: 8, every: {{dice.Between(5, 50)}} ms}
          Behind: {id: 0x7F1, length: 8, every: {{dice.Between(5, 50)}} ms}
          Last: {id: 0x7F2, length: 8, every: {{dice.Between(5, 50)}} ms}
        diagnostics:
          t:
            request: 0x7E0
            functional: 0x7DF
            response: {{dice.Pick("0x7E8", "0x7F8")}}
            {{(fd ? $"format: fd\n    frame length: {dice.Pick(8, 12, 24, 64)}" : "format: classic")}}
            padding: {{dice.Pick("none", "0xCC")}}
            block size: {{dice.Between(0, 3)}}
            separation: {{dice.Pick("0 ms", "100 us", "3 ms")}}
            answer after: {{dice.Pick("0 ms", "1 ms", "50 ms", "60 ms")}}
            sessions: [default, extended]
            reset: {{dice.Pick("accept", "refuse")}}
            security: {{dice.Pick("unknown", "denied")}}
            memory: {{dice.Pick("none", "empty")}}
            identifiers: {0xF190: {text: DEPOT0000000LOCO1}, 0xF187: {bytes: 01 02 03 04, after: {{dice.Pick("0 ms", "0 ms", "70 ms", "5.2 s")}}} }
        """;

    private static string Stimulus(Dice dice, bool fd)
    {
        var text = new StringBuilder("traffic:\n  b:\n");
        var at = 0L;
        for (var i = 0; i < Frames; i++)
        {
            at += dice.Chance(97) ? dice.Pick(260L, 300, 500, 1_000, 2_000, 3_000, 5_000, 20_000, 30_000) : dice.Pick(1_000_000L, 999_000, 1_000_500, 5_100_000);
            text.Append($"    - {{id: {dice.Pick("0x7E0", "0x7E0", "0x7E0", "0x7E0", "0x7DF")}, at: {at} us, {Data(dice, fd)}}}\n");
        }
        // Others keep the module's frames in their mailboxes, but let the testers through.
        foreach (var id in new[] { "0x7E4", "0x7E5" })
            text.Append($"    - {{id: {id}, every: 50 us, offset: {at / 4} us, until: {(at / 4) + 150_000} us}}\n");
        text.Append($"blocked: {{b: [{{from: {at / 3} us, until: {(at / 3) + dice.Pick(8_000L, 999_000, 1_200_000)} us}}]}}\n");
        text.Append($"stalls: [{{from: {at / 2} us, until: {(at / 2) + dice.Between(1, 1_500_000)} us}}]\n");
        return $"locum: 1\nstimulus: flood\nfor: {at + 100_000} us\nclock: {(uint)dice.Bits(32)}\n{text}";
    }

    private static string Data(Dice dice, bool fd)
    {
        var data = Bytes(dice);
        if (!fd || dice.Chance(40))
            return $"data: [{string.Join(", ", data)}]";
        var more = dice.Pick(0, 0, 4, 8, 16, 56);
        if (data.Count > 0 && data[0] is > 0 and < 16 && dice.Chance(70))
            data.Insert(0, 0);
        data.AddRange(Enumerable.Range(0, FdLengths.AtLeast(data.Count + more) - data.Count).Select(_ => dice.Pick<byte>(0xF1, 0x87, 0xCC)));
        return $"format: fd, data: [{string.Join(", ", data)}]";
    }

    private static List<byte> Bytes(Dice dice)
    {
        List<byte> data = dice.Between(0, 9) switch
        {
            0 or 1 => [(byte)dice.Between(1, 4), Service(dice), Value(dice), Value(dice), Value(dice)],
            2 => [3, 0x22, 0xF1, dice.Pick<byte>(0x90, 0x87)],
            3 or 4 => [dice.Pick<byte>(0x30, 0x30, 0x30, 0x31, 0x32, 0x33), (byte)dice.Between(0, 3), dice.Pick<byte>(0, 0, 1, 10, 0x7F, 0x80, 0xF1, 0xF9)],
            5 => [0x10, dice.Pick<byte>(0, 7, 8, 9, 20, 64, 65, 255), .. Many(dice, 6)],
            6 or 7 => [dice.Pick<byte>(0x21, 0x21, 0x22, 0x23, 0x20, 0x2F), .. Many(dice, 7)],
            _ => [.. Enumerable.Range(0, dice.Between(0, 8)).Select(_ => (byte)dice.Bits(8))],
        };
        if (dice.Chance(30))
            data.AddRange(Enumerable.Repeat((byte)0xCC, Math.Max(0, 8 - data.Count)));
        return dice.Chance(10) ? data[..dice.Between(0, data.Count)] : data;
    }

    private static byte Service(Dice dice) => dice.Chance(10) ? (byte)dice.Bits(8) : dice.Pick<byte>(0x10, 0x11, 0x14, 0x19, 0x22, 0x27, 0x3E, 0x85);

    private static byte Value(Dice dice) => dice.Chance(20) ? (byte)dice.Bits(8) : dice.Pick<byte>(0, 1, 2, 3, 0x0A, 0x80, 0x81, 0x83, 0xFF);

    private static IEnumerable<byte> Many(Dice dice, int count) => Enumerable.Range(0, count).Select(_ => dice.Pick<byte>(0x22, 0xF1, 0x90, 0x87, 0));
}
