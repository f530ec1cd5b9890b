using System.Text;
using CsCheck;

namespace Locum.Tests.Properties;

/// <summary>A module with two nodes, and others that ask, claim and receive as they should, and as they should not, at any distance.</summary>
internal sealed class NodeFloodGen : Gen<GeneratedProject>
{
    private const int Frames = 400;

    private static readonly string[] s_groups = ["EB FE 00", "EB FE 00", "EC FE 00", "EC FE 00", "DA FE 00", "00 EF 00", "A4 F0 00", "A5 F0 00", "00 EE 00", "00 EE 00", "EE FE 00"];

    public override GeneratedProject Generate(PCG pcg, Size? min, out Size size)
    {
        var dice = new Dice(pcg);
        var project = new GeneratedProject([Module(dice)], [Stimulus(dice)])
        {
            Guards = dice.Chance(50) ? "" : "{foreign sender: ignore, bus off: {recoveries: 20, within: 1 s, wait: 20 ms}}",
        };
        size = new Size((ulong)project.ToString().Length);
        return project;
    }

    private static string Module(Dice dice) => $$"""
        locum: 1
        module: m
        hazard: none
        buses: {b: {rate: 250 kbit/s} }
        modes: {on: {for: {{dice.Between(1, 8)}} s, then: off}, off: {sleep: yes, for: 30 ms, then: on} }
        frames:
          Own: {id: 0x18F0A417, length: 8, every: {{dice.Between(5, 50)}} ms, fields: {n: {bit: 0, bits: 8, counter: {advance: {{dice.Pick("sent", "slot")}}} } } }
          Asked: {id: 0x18F0A580, length: 8, on: {mode: on} }
          Behind: {id: 0x1FFF0001, length: 8, every: {{dice.Between(5, 50)}} ms}
        j1939:
          low:
            address: 0x17
            name: 39 30 00 00 00 19 00 00
            answers:
              0xFEEB: {text: "DEPOT*LIFT-2*000417*"}
              0xFEEC: {text: "{{new string('V', dice.Pick(9, 14, 15, 63, 300))}}"}
              0xFEDA: {bytes: 01 31 2A}
              0xEF00: {bytes: 01 02}
              0xF0A4: {frame: Own}
          high:
            address: 0x80
            name: 39 30 00 00 00 19 00 80
            spacing: {{dice.Between(50, 70)}} ms
            answers:
              0xFEEB: {text: "DEPOT*LIFT-3*"}
              0xEF00: {bytes: 03}
              0xF0A5: {frame: Asked}
        diagnostics:
          t: {request: 0x18DA17F1, response: 0x18DAF117, identifiers: {0xF190: {text: DEPOT0000000LOCO1} } }
        """;

    private static string Stimulus(Dice dice)
    {
        var text = new StringBuilder("traffic:\n  b:\n");
        var at = 0L;
        for (var i = 0; i < Frames; i++)
        {
            at += dice.Chance(97) ? dice.Pick(1L, 540, 1_000, 2_000, 3_000, 5_000, 20_000, 30_000) : dice.Pick(1_250_000L, 1_049_000, 1_251_000, 250_000);
            foreach (var (id, data) in Talk(dice))
            {
                text.Append($"    - {{id: 0x{id:X8}, at: {at} us, data: {data}}}\n");
                at += dice.Pick(700L, 1_000, 3_000);
            }
        }
        // Others keep the module's frames in their mailboxes.
        foreach (var id in new[] { "0x7E4", "0x7E5" })
            text.Append($"    - {{id: {id}, every: 100 us, offset: {at / 4} us, until: {(at / 4) + 50_000} us}}\n");
        text.Append($"blocked: {{b: [{{from: {at / 3} us, until: {(at / 3) + 8_000} us}}]}}\n");
        text.Append($"bus off: {{b: [{at * 3 / 5} us, {at * 4 / 5} us]}}\n");
        text.Append($"stalls: [{{from: {at / 2} us, until: {(at / 2) + dice.Between(1, 1_500_000)} us}}]\n");
        return $"locum: 1\nstimulus: flood\nfor: {at + 100_000} us\nclock: {(uint)dice.Bits(32)}\n{text}";
    }

    // A request, a claim, something from a receiver, or a whole transfer that goes well.
    private static IEnumerable<(uint Id, string Data)> Talk(Dice dice)
    {
        var node = dice.Pick(0x17u, 0x17u, 0x80u);
        var asker = dice.Pick(0xF9u, 0xF9u, 0xF8u, 0xFEu);
        switch (dice.Between(0, 19))
        {
            case 0:
                yield return (0x18EEFF00u | node, dice.Pick("FF FF FF FF FF FF FF FF", "3A 30 00 00 00 19 00 80", "39 30 00 00 00 19 00 00", "39 30 00 00 00 19 00 80"));
                break;
            case < 8:
                yield return (0x18EA0000u | (dice.Chance(30) ? 0xFFu : node) << 8 | asker, dice.Pick(s_groups));
                break;
            case < 10:
                yield return (0x18EAFF00u | asker, "EB FE 00");
                break;
            case < 14:
                yield return (0x18EA1700u | asker, "EB FE 00");
                yield return (0x1CEC1700u | asker, "11 02 01 FF FF EB FE 00");
                yield return (0x1CEC1700u | asker, dice.Pick("11 01 03 FF FF EB FE 00", "11 00 FF FF FF EB FE 00", "11 FF 02 FF FF EB FE 00"));
                yield return (0x1CEC1700u | asker, "13 14 00 03 FF EB FE 00");
                break;
            case < 17:
                yield return (0x1CEC0000u | node << 8 | asker, $"{dice.Pick("11", "11", "11", "13", "FF", "10")} {dice.Between(0, 4):X2} {dice.Between(0, 4):X2} FF FF {dice.Pick(s_groups)}");
                break;
            case 17:
                yield return (0x18DA17F1u, dice.Pick("03 22 F1 90", "02 3E 00", "30 00 00", "10 0B 22 F1 90 00 00 00"));
                break;
            default:
                yield return (dice.Pick(0x18EA17F9u, 0x18EAFFF9u, 0x1CEC17F9u, 0x18EEFF17u, 0x1CEB17F9u), dice.Row(dice.Between(0, 8)));
                break;
        }
    }
}
