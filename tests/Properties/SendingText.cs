using System.Text;

namespace Locum.Tests.Properties;

/// <summary>Random ways of sending one frame.</summary>
internal sealed class SendingText
{
    private const int MostTriggers = 3;
    private const long Longest = 1L << 30;

    private readonly Dice _dice;
    private readonly World _world;
    private readonly List<string> _triggers = [];

    private SendingText(Dice dice, World world) => (_dice, _world) = (dice, world);

    public bool Cyclic { get; private set; } = true;

    /// <summary>One period and nothing else.</summary>
    public bool Steady { get; private set; }

    /// <summary>Period and burst.</summary>
    public string Text { get; private set; } = "";

    /// <param name="frames">All frames of the module; a frame is only sent after those before it.</param>
    /// <param name="sent">Modes in which the frame is sent.</param>
    public static SendingText Draw(Dice dice, World world, ModuleWorld module, DrawnFrame frame, IReadOnlyList<DrawnFrame> frames, IReadOnlyList<string> sent)
    {
        var sending = new SendingText(dice, world);
        if (dice.Chance(30))
            for (var i = dice.Between(1, MostTriggers); i > 0; i--)
                sending._triggers.Add(sending.Trigger(module, [.. frames.Take(frame.Number)]));
        sending.Cyclic = sending._triggers.Count is 0 || dice.Chance(50);
        if (sending.Cyclic)
            sending.DrawPeriod(frame, sent, module.Modes.Names);
        return sending;
    }

    /// <param name="changing">Fields whose change may be an event.</param>
    public string Events(IReadOnlyList<string> changing)
    {
        var triggers = _triggers.ToList();
        if (triggers.Count > 0 && changing.Count > 0 && _dice.Chance(60))
            triggers.Add($"{{change: [{string.Join(", ", _dice.Some(changing, 1))}]}}");
        if (triggers.Count is 0)
            return "";
        var text = new StringBuilder(triggers.Count is 1 && _dice.Chance(50) ? $"    on: {triggers[0]}\n" : $"    on:\n{string.Concat(triggers.Select(t => $"      - {t}\n"))}");
        if (_dice.Chance(40))
            text.Append($"    repeat: {_dice.Between(1, 5)}\n    spacing: {_dice.Text(Time(100, 15_000))}\n");
        if (_dice.Chance(40))
            text.Append($"    gap: {_dice.Text(_dice.Chance(20) ? 0 : Time(1, 20_000))}\n");
        return text.ToString();
    }

    private string Trigger(ModuleWorld module, IReadOnlyList<DrawnFrame> before)
    {
        List<string> kinds = ["start: yes", $"mode: {_dice.Pick(module.Modes.Names)}"];
        if (module.Modes.Text.Length is 0)
            kinds.RemoveAt(1);
        if (module.Inputs.Count > 0)
            kinds.Add($"input: {_dice.Pick(module.Inputs).Name}, level: {_dice.Pick("active", "inactive")}");
        if (module.Received.Count > 0)
            kinds.Add($"receive: {_dice.Pick(module.Received).Name}");
        if (before.Count > 0)
            kinds.Add($"frame: {_dice.Pick(before).Name}");
        var after = _dice.Chance(50) ? $", after: {_dice.Text(Time(0, 20_000))}" : "";
        return $"{{{_dice.Pick(kinds)}{after}}}";
    }

    private void DrawPeriod(DrawnFrame frame, IReadOnlyList<string> sent, IReadOnlyList<string> all)
    {
        var text = new StringBuilder();
        Steady = _triggers.Count is 0;
        if (_dice.Chance(20))
        {
            Steady = false;
            var other = !all.Contains("other") && _dice.Chance(50);
            var entries = (other ? _dice.Some(sent, 0) : sent).Select(m => $"{m}: {Longer()}").ToList();
            if (other)
                entries.Add($"other: {Longer()}");
            text.Append($"    every: {{{string.Join(", ", entries)}}}\n");
        }
        else
        {
            text.Append($"    every: {_dice.Text(frame.PeriodUs)}\n");
        }
        if (_dice.Chance(15))
        {
            Steady = false;
            text.Append($"    burst: {{first: {_dice.Between(2, 9)}, every: {_dice.Text(Math.Max(Math.Max(100, frame.WireUs), frame.PeriodUs / _dice.Between(1, 8)))}}}\n");
        }
        Text = text.ToString();

        string Longer() => _dice.Text(Math.Min(Longest, (frame.PeriodUs * _dice.Between(1, 4)) + (_dice.Chance(50) ? _dice.Between(0, frame.PeriodUs) : 0)));
    }

    private long Time(long low, long high) => _world.Pace * _dice.Time(low, high);
}
