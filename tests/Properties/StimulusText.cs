using System.Text;
using Locum.Wire;

namespace Locum.Tests.Properties;

/// <summary>Random surroundings: bouncing inputs, busy and blocked buses, stalls, resets, a clock near its wrap.</summary>
internal static class StimulusText
{
    public static string Of(Dice dice, World world)
    {
        var scenes = Scene.Draw(dice, world);
        var end = Math.Max(scenes[^1].UntilUs, world.LeastUs);
        // The timers of channels are seconds, whatever the pace.
        if (world.Channels.Count > 0 && dice.Chance(15))
            end = Math.Max(end, dice.Time(1_500_000, 8_000_000));
        var text = new StringBuilder($"locum: 1\nstimulus: drawn\nfor: {dice.Text(end)}\n");
        Inputs(dice, world, scenes, text);
        Section("traffic", world.Buses.Select(b => (b.Name, Traffic(dice, world, b, end))), text);
        Section("blocked", world.Buses.Select(b => (b.Name, Spans(dice, scenes, long.MaxValue, 2))), text);
        // A slow board makes its first step at power-on: the laps of its long stays begin there.
        var stalls = Spans(dice, scenes, 600_000_000, 3, world.Pace is 1 ? 0 : 1);
        if (stalls.Count > 0)
            text.Append($"stalls:\n{string.Concat(stalls.Select(s => $"  - {s}\n"))}");
        Section("bus off", world.Buses.Select(b => (b.Name, Times(dice, scenes, 30, 6))), text);
        var resets = Times(dice, scenes, 25, 3).Select(t => $"{{at: {t}, cause: {dice.Pick("power", "watchdog", "watchdog", "brown-out")}}}").ToList();
        if (resets.Count > 0)
            text.Append($"resets:\n{string.Concat(resets.Select(r => $"  - {r}\n"))}");
        if (Clock(dice, scenes, end) is var clock and not 0)
            text.Append($"clock: 0x{clock:X8}\n");
        return text.ToString();
    }

    // The number at power-on that makes 32 bits wrap in a scene or between them, just behind power-on, or anywhere.
    private static uint Clock(Dice dice, IReadOnlyList<Scene> scenes, long end) => dice.Between(0, 9) switch
    {
        <= 3 => Wrapping(dice.Pick(scenes).Time(dice)),
        <= 6 => Wrapping(dice.Between(1, end)),
        7 => Wrapping(dice.Between(1, 0xFFFF)),
        8 => (uint)dice.Bits(32),
        _ => 0,
    };

    private static uint Wrapping(long at) => (uint)(0x1_0000_0000 - Math.Clamp(at, 1, 0xFFFF_FFFF));

    private static void Inputs(Dice dice, World world, IReadOnlyList<Scene> scenes, StringBuilder text)
    {
        if (world.Inputs.Count is 0)
            return;
        text.Append("inputs:\n");
        foreach (var input in world.Inputs)
        {
            text.Append($"  {input.Name}:\n");
            var (at, active) = (0L, true);
            foreach (var scene in scenes)
            {
                at = Math.Max(at, scene.FromUs + (dice.Chance(20) ? 0 : dice.Between(1, scene.LengthUs / 3)));
                for (var i = dice.Between(1, 14); i > 0 && at <= scene.UntilUs; i--)
                {
                    text.Append($"    - {{at: {at} us, level: {(active ? "active" : "inactive")}}}\n");
                    active = dice.Chance(90) ? !active : active;
                    at += Math.Max(1, dice.Between(0, 5) switch
                    {
                        0 => input.DebounceUs - 1,
                        1 => input.DebounceUs,
                        2 => input.DebounceUs + 1,
                        3 => dice.Between(1, Math.Max(1, input.DebounceUs / 2)),
                        _ => dice.Between(1, scene.LengthUs / 4),
                    });
                }
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

    private static List<string> Spans(Dice dice, IReadOnlyList<Scene> scenes, long longest, int most, long first = 0)
    {
        var spans = new List<string>();
        foreach (var scene in scenes)
            for (var i = dice.Between(0, most); i > 0; i--)
            {
                var from = dice.Chance(15) ? Math.Max(first, scene.FromUs) : scene.Time(dice, first);
                spans.Add($"{{from: {from} us, until: {from + dice.Between(1, Math.Min(longest, scene.LengthUs / 8))} us}}");
            }
        return spans;
    }

    private static List<string> Times(Dice dice, IReadOnlyList<Scene> scenes, int percent, int most)
    {
        var times = new SortedSet<long>();
        if (dice.Chance(percent))
            for (var i = dice.Between(1, most); i > 0; i--)
                times.Add(dice.Pick(scenes).Time(dice, 1));
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
