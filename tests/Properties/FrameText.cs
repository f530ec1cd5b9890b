using System.Text;
using Locum.Wire;

namespace Locum.Tests.Properties;

/// <summary>Random frames of one module; buses stay below full load, counters may be shared.</summary>
internal sealed class FrameText(Dice dice, World world, ModeText modes, IReadOnlyList<WorldBus> buses)
{
    private const double MostLoad = 0.95;

    private readonly List<DrawnCounter> _shared = DrawShared(dice);

    public string Draw(int count)
    {
        var frames = Enumerable.Range(0, count).Select(i => DrawFrame(i)).ToList();
        foreach (var bus in buses)
            Relax([.. frames.Where(f => f.Bus == bus)]);
        return "frames:\n" + string.Concat(frames.Select(Write));
    }

    public string SharedCounters() => _shared.Count is 0 ? ""
        : "counters:\n" + string.Concat(_shared.Select(c => $"  {c.Name}: {c.Text}\n"));

    private static List<DrawnCounter> DrawShared(Dice dice) =>
        [.. Enumerable.Range(0, dice.Between(0, 2)).Select(i => DrawnCounter.Draw(dice, $"shared {i}", dice.Pick(4, 8, 13, 32)))];

    private DrawnFrame DrawFrame(int number)
    {
        var bus = number < buses.Count ? buses[number] : dice.Pick(buses);
        var id = world.NewId(dice, bus);
        var length = dice.Between(0, 8);
        // Worst length with intermission, bits: 55 + 10 n or 80 + 10 n (Davis and others 2007, from memory).
        var wire = (((id.Extended ? 80 : 55) + (10L * length)) * 1_000_000 / bus.Rate) + 1;
        var period = world.Pace * dice.Between(0, 9) switch
        {
            0 => Math.Max(wire, 100),
            1 => Math.Max(wire, dice.Time(100, 3_000)),
            2 => Math.Max(wire, dice.Time(60_000, 200_000)),
            _ => Math.Max(wire, dice.Time(4_000, 60_000)),
        };
        return new DrawnFrame($"{dice.Pick("Status", "int", "a.b", "Überlauf", "loop_")}{number}", bus, id, length, wire) { PeriodUs = period };
    }

    private static void Relax(List<DrawnFrame> frames)
    {
        while (frames.Sum(f => (double)f.WireUs / f.PeriodUs) > MostLoad)
        {
            var fastest = frames.MaxBy(f => (double)f.WireUs / f.PeriodUs)!;
            fastest.PeriodUs = (fastest.PeriodUs * 2) + 1;
        }
    }

    private string Write(DrawnFrame frame)
    {
        var text = new StringBuilder($"  {frame.Name}:\n");
        if (buses.Count > 1 || dice.Chance(50))
            text.Append($"    bus: {frame.Bus.Name}\n");
        text.Append(dice.Chance(80) ? $"    id: 0x{frame.Id.Value:X}\n" : $"    id: {frame.Id.Value}\n");
        if (frame.Id.Extended ? frame.Id.Value <= 0x7FF || dice.Chance(30) : dice.Chance(30))
            text.Append($"    id kind: {(frame.Id.Extended ? "29 bit" : "11 bit")}\n");
        text.Append($"    length: {frame.Length}\n    every: {dice.Text(frame.PeriodUs)}\n");
        if (dice.Chance(80))
            text.Append($"    offset: {dice.Text(world.Pace * (dice.Chance(90) ? dice.Time(0, 20_000) : dice.Time(0, 150_000)))}\n");
        var sent = modes.Awake;
        if (dice.Chance(60))
        {
            var some = dice.Some(modes.Awake, 1);
            if (!some.Any(modes.Sending.Contains))
                some.Add(dice.Pick(modes.Sending));
            sent = some;
            text.Append(sent.Count is 1 && dice.Chance(50) ? $"    in: {sent[0]}\n" : $"    in: [{string.Join(", ", sent)}]\n");
        }
        if (dice.Chance(60))
            text.Append($"    base: {string.Join(' ', Enumerable.Range(0, frame.Length).Select(_ => $"{dice.Bits(8):X2}"))}\n");
        text.Append(new FieldText(dice, frame.Length, sent, modes.Names, _shared).Draw());
        return text.ToString();
    }

    private sealed record DrawnFrame(string Name, WorldBus Bus, CanId Id, int Length, long WireUs)
    {
        public long PeriodUs { get; set; }
    }
}

/// <summary>A counter as text, with what checksums need to know of it.</summary>
internal sealed record DrawnCounter(string Name, string Text, uint Lowest, uint Highest)
{
    public static DrawnCounter Draw(Dice dice, string name, int bits)
    {
        var most = bits >= 32 ? uint.MaxValue : (1u << bits) - 1;
        var low = dice.Chance(60) ? 0 : (uint)dice.Between(0, most - 1);
        var high = dice.Chance(50) ? most : (uint)dice.Between(low + 1L, most);
        var step = dice.Chance(60) ? 1 : (uint)dice.Between(1, Math.Min(high - low, dice.Pick(3u, 16u, uint.MaxValue)));
        var down = dice.Chance(30);
        var (from, to) = down ? (high, low) : (low, high);
        var parts = new List<string> { $"from: {from}", $"to: {to}" };
        if (step != 1)
            parts.Add($"step: {step}");
        if (dice.Chance(40))
        {
            var away = dice.Between(0, (high - low) / step) * step;
            parts.Add($"start: {(down ? from - away : from + away)}");
        }
        if (dice.Chance(40))
            parts.Add($"advance: {dice.Pick("slot", "slot", "sent")}");
        if (dice.Chance(40))
            parts.Add($"restart: {dice.Pick("entry", "entry", "never")}");
        return new DrawnCounter(name, $"{{{string.Join(", ", parts)}}}", low, high);
    }
}
