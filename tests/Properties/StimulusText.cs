using System.Text;
using Locum.Wire;

namespace Locum.Tests.Properties;

/// <summary>Random surroundings: bouncing inputs, busy and blocked buses, stalls, a clock near its wrap.</summary>
internal static class StimulusText
{
    public static string Of(Dice dice, World world)
    {
        var end = world.Pace * dice.Time(150_000, 900_000);
        // The timers of channels are seconds, whatever the pace.
        if (world.Channels.Count > 0 && dice.Chance(15))
            end = Math.Max(end, dice.Time(1_500_000, 8_000_000));
        var text = new StringBuilder($"locum: 1\nstimulus: drawn\nfor: {dice.Text(end)}\n");
        Inputs(dice, world, end, text);
        Section("traffic", world.Buses.Select(b => (b.Name, Traffic(dice, world, b, end))), text);
        Section("blocked", world.Buses.Select(b => (b.Name, Spans(dice, end, end / 10, 2))), text);
        // A slow board makes its first step at power-on: the laps of its long stays begin there.
        var stalls = Spans(dice, end, Math.Min(end / 6, 600_000_000), 3, world.Pace is 1 ? 0 : 1);
        if (stalls.Count > 0)
            text.Append($"stalls:\n{string.Concat(stalls.Select(s => $"  - {s}\n"))}");
        Section("bus off", world.Buses.Select(b => (b.Name, Times(dice, end, 30, 6))), text);
        var resets = Times(dice, end, 25, 3).Select(t => $"{{at: {t}, cause: {dice.Pick("power", "watchdog", "watchdog", "brown-out")}}}").ToList();
        if (resets.Count > 0)
            text.Append($"resets:\n{string.Concat(resets.Select(r => $"  - {r}\n"))}");
        // Anywhere, at the wrap within the run, and at power-on just before it.
        var clock = dice.Between(0, 3) switch
        {
            0 => (uint)dice.Bits(32),
            1 => (uint)(0x1_0000_0000 - dice.Between(1, Math.Min(end, 0xFFFF_FFFF))),
            2 => 0xFFFF_0000u | (uint)dice.Bits(16),
            _ => 0u,
        };
        if (clock != 0)
            text.Append($"clock: 0x{clock:X8}\n");
        return text.ToString();
    }

    private static void Inputs(Dice dice, World world, long end, StringBuilder text)
    {
        if (world.Inputs.Count is 0)
            return;
        text.Append("inputs:\n");
        foreach (var input in world.Inputs)
        {
            text.Append($"  {input.Name}:\n");
            var at = dice.Chance(20) ? 0 : dice.Between(1, end / 3);
            var active = true;
            for (var i = dice.Between(1, 14); i > 0 && at <= end; i--)
            {
                text.Append($"    - {{at: {at} us, level: {(active ? "active" : "inactive")}}}\n");
                active = dice.Chance(90) ? !active : active;
                at += Math.Max(1, dice.Between(0, 5) switch
                {
                    0 => input.DebounceUs - 1,
                    1 => input.DebounceUs,
                    2 => input.DebounceUs + 1,
                    3 => dice.Between(1, Math.Max(1, input.DebounceUs / 2)),
                    _ => dice.Between(1, end / 4),
                });
            }
        }
    }

    private static List<string> Traffic(Dice dice, World world, WorldBus bus, long end)
    {
        var frames = new List<string>();
        for (var i = dice.Between(0, 3); i > 0; i--)
        {
            var id = dice.Chance(10) && bus.Ids.Count > 0 ? dice.Pick([.. bus.Ids]) : world.AnyId(dice);
            var data = string.Join(' ', Enumerable.Range(0, dice.Between(0, 8)).Select(_ => $"{dice.Bits(8):X2}"));
            var until = dice.Chance(40) ? $", until: {dice.Between(1, end)} us" : "";
            frames.Add($"{{id: 0x{id.Value:X}, id kind: {(id.Extended ? "29 bit" : "11 bit")}, every: {world.Pace * dice.Time(700, 20_000)} us, offset: {dice.Between(0, 5_000)} us, data: {data}{until}}}");
        }
        foreach (var heard in world.Heard.Where(h => h.Bus == bus))
            if (dice.Chance(85))
                frames.Add(HeardText.Draw(dice, world, heard, end));
        foreach (var channel in world.Channels.Where(c => c.Bus == bus))
            frames.AddRange(TesterText.Draw(dice, channel, end));
        foreach (var node in world.Nodes.Where(n => n.Bus == bus))
            frames.AddRange(NodeTrafficText.Draw(dice, world, node, end));
        return frames;
    }

    private static List<string> Spans(Dice dice, long end, long longest, int most, long first = 0)
    {
        var spans = new List<string>();
        for (var i = dice.Between(0, most); i > 0; i--)
        {
            var from = dice.Chance(15) ? first : dice.Between(first, end);
            spans.Add($"{{from: {from} us, until: {from + dice.Between(1, longest)} us}}");
        }
        return spans;
    }

    private static List<string> Times(Dice dice, long end, int percent, int most)
    {
        var times = new SortedSet<long>();
        if (dice.Chance(percent))
            for (var i = dice.Between(1, most); i > 0; i--)
                times.Add(dice.Between(1, end));
        return [.. times.Select(t => $"{t} us")];
    }

    private static void Section(string key, IEnumerable<(string Bus, List<string> Items)> parts, StringBuilder text)
    {
        var used = parts.Where(p => p.Items.Count > 0).ToList();
        if (used.Count is 0)
            return;
        text.Append($"{key}:\n");
        foreach (var (bus, items) in used)
            text.Append($"  {bus}:\n{string.Concat(items.Select(i => $"    - {i}\n"))}");
    }
}
