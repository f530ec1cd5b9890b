using System.Text;
using Locum.Wire;

namespace Locum.Tests.Properties;

/// <summary>Random frames of one module; buses stay below full load, counters may be shared.</summary>
internal sealed class FrameText(Dice dice, World world, ModuleWorld module)
{
    private const double MostLoad = 0.95;

    private readonly List<DrawnCounter> _shared = DrawShared(dice);
    private List<DrawnFrame> _frames = [];

    public ModuleWorld Module => module;

    /// <summary>The frames that have been drawn.</summary>
    public IReadOnlyList<DrawnFrame> Drawn => _frames;

    public string Draw(int count)
    {
        _frames = [.. Enumerable.Range(0, count).Select(i => DrawnFrame.Draw(dice, world, i, i < module.Buses.Count ? module.Buses[i] : dice.Pick(module.Buses)))];
        foreach (var bus in module.Buses)
            Relax([.. _frames.Where(f => f.Bus == bus)]);
        return "frames:\n" + string.Concat(_frames.Select(Write));
    }

    public string SharedCounters() => _shared.Count is 0 ? ""
        : "counters:\n" + string.Concat(_shared.Select(c => $"  {c.Name}: {c.Text}\n"));

    private static List<DrawnCounter> DrawShared(Dice dice) =>
        [.. Enumerable.Range(0, dice.Between(0, 2)).Select(i => DrawnCounter.Draw(dice, $"shared {i}", dice.Pick(4, 8, 13, 32)))];

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
        if (module.Buses.Count > 1 || dice.Chance(50))
            text.Append($"    bus: {frame.Bus.Name}\n");
        text.Append(dice.Chance(80) ? $"    id: 0x{frame.Id.Value:X}\n" : $"    id: {frame.Id.Value}\n");
        if (frame.Id.Extended ? frame.Id.Value <= 0x7FF || dice.Chance(30) : dice.Chance(30))
            text.Append($"    id kind: {(frame.Id.Extended ? "29 bit" : "11 bit")}\n");
        text.Append(frame.Format switch
        {
            FrameFormat.Fd => "    format: fd\n    switch rate: no\n",
            FrameFormat.FdSwitched => "    format: fd\n",
            _ => "",
        });
        text.Append($"    length: {frame.Length}\n");
        var sent = Modes(text);
        var sending = SendingText.Draw(dice, world, module, frame, _frames, sent);
        if (sending.Cyclic && dice.Chance(80))
            text.Append($"    offset: {dice.Text(world.Pace * (dice.Chance(90) ? dice.Time(0, 20_000) : dice.Time(0, 150_000)))}\n");
        text.Append(sending.Text);
        if (dice.Chance(60))
            text.Append($"    base: {dice.Row(frame.Length)}\n");
        var inTurn = dice.Chance(15) && frame.Length > 0;
        var fields = new FieldText(dice, module, frame, sent, _shared, sending.Steady ? frame.PeriodUs : 0, inTurn);
        text.Append(ProtectText.Draw(dice, frame.Length, fields));
        text.Append(fields.Draw("    "));
        if (inTurn)
            text.Append(fields.DrawPages());
        text.Append(sending.Events(fields.Changing));
        return text.ToString();
    }

    private IReadOnlyList<string> Modes(StringBuilder text)
    {
        var modes = module.Modes;
        if (dice.Chance(40))
            return modes.Awake;
        var some = dice.Some(modes.Awake, 1);
        if (!some.Any(modes.Sending.Contains))
            some.Add(dice.Pick(modes.Sending));
        text.Append(some.Count is 1 && dice.Chance(50) ? $"    in: {some[0]}\n" : $"    in: [{string.Join(", ", some)}]\n");
        return some;
    }
}

/// <summary>What the frames of one module can refer to.</summary>
internal sealed record ModuleWorld(IReadOnlyList<WorldBus> Buses, IReadOnlyList<WorldInput> Inputs, IReadOnlyList<DrawnReceive> Received, ModeText Modes);
