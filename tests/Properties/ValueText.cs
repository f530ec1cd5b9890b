using System.Text;

namespace Locum.Tests.Properties;

/// <summary>Random values of one field: fixed, by mode, following, moving.</summary>
internal sealed class ValueText(Dice dice, ModuleWorld module, int bits, long steadyUs, IReadOnlyList<string> sentIn)
{
    private const int Widest = 32;
    private const int LongestDelay = 8;
    private const long Longest = 1L << 30;

    private decimal _scale = 1;
    private decimal _offset;

    public bool Signed { get; private set; }

    /// <summary>Changes with modes or received frames alone.</summary>
    public bool Changes { get; private set; }

    private decimal Lowest => Signed ? -Power / 2 : 0;

    private decimal Highest => Signed ? (Power / 2) - 1 : Power - 1;

    private decimal Power => bits is 64 ? 18_446_744_073_709_551_616m : 1UL << bits;

    public string Value()
    {
        var text = Meaning(30);
        if (dice.Chance(50))
            return $"{text}, value: {Physical(Raw())}";
        Changes = true;
        var other = !module.Modes.Names.Contains("other") && dice.Chance(50);
        var entries = (other ? dice.Some(sentIn, 0) : sentIn).Select(m => $"{m}: {Physical(Raw())}").ToList();
        if (other)
            entries.Add($"other: {Physical(Raw())}");
        return $"{text}, value: {{{string.Join(", ", entries)}}}";
    }

    /// <summary>Follows a received field; null when there is none or this field is too wide.</summary>
    public string? Follow()
    {
        var sources = module.Received.SelectMany(r => r.Fields.Select(f => $"{r.Name}.{f.Name}")).ToList();
        if (sources.Count is 0 || bits > Widest)
            return null;
        var text = Meaning(40);
        var parts = new List<string> { $"from: {dice.Pick(sources)}" };
        if (dice.Chance(60))
            parts.Add($"gain: {dice.Pick("0.5", "-1.8", "3", "0.01", "0.621", "-0.25", "100")}");
        if (dice.Chance(50))
            parts.Add($"add: {dice.Pick("0.5", "-20", "32", "7.25", "1000")}");
        var (low, high) = (Raw(), Raw());
        if (low > high)
            (low, high) = (high, low);
        // What is least in bits is most in meaning when the scale is negative.
        var (least, most) = _scale < 0 ? (high, low) : (low, high);
        if (dice.Chance(40))
            parts.Add($"at least: {Physical(least)}");
        if (dice.Chance(40))
            parts.Add($"at most: {Physical(most)}");
        Changes = true;
        if (steadyUs > 0 && bits <= (Signed ? 32 : 31) && dice.Chance(60))
            AddLag(parts);
        return $"{text}, follow: {(parts.Count is 1 && dice.Chance(50) ? parts[0]["from: ".Length..] : $"{{{string.Join(", ", parts)}}}")}, lost: {Physical(Raw())}";
    }

    /// <summary>A ramp or noise; null when the frame has no steady period or this field is too wide.</summary>
    public string? Move()
    {
        var signed = dice.Chance(40);
        if (steadyUs is 0 || bits > (signed ? 32 : 31))
            return null;
        var text = Meaning(signed ? 100 : 0);
        if (dice.Chance(60))
        {
            var over = (steadyUs * dice.Pick(dice.Between(1, 12), dice.Between(1, 200))) + dice.Between(0, steadyUs / 3);
            return $"{text}, ramp: {{from: {Physical(Raw())}, to: {Physical(Raw())}, over: {dice.Text(over)}{dice.Pick("", ", then: hold", ", then: repeat", ", then: back")}}}";
        }
        if (Highest - Lowest < 2)
            return null;
        var centre = decimal.Clamp(Raw(), Lowest + 1, Highest - 1);
        var room = Math.Min(Math.Min(centre - Lowest, Highest - centre), 1_000_000_000);
        if (room < 1)
            return null;
        var span = dice.Between(1, (long)room);
        return $"{text}, noise: {{around: {Physical(centre)}, span: {FieldText.Number(span * Math.Abs(_scale))}, seed: {dice.Pick(1u, uint.MaxValue, (uint)dice.Between(1L, uint.MaxValue))}}}";
    }

    private void AddLag(List<string> parts)
    {
        Changes = false;
        var way = dice.Between(0, 2);
        if (way != 0)
            parts.Add($"delay: {dice.Text(Math.Min(Longest, (steadyUs * dice.Between(1, LongestDelay)) + dice.Between(0, steadyUs / 3)))}");
        // A number of raw steps per release, as a speed per second.
        var steps = dice.Between(1, (long)Math.Min(Highest - Lowest, dice.Pick(20, 2_000, 1_000_000)));
        if (way != 1)
            parts.Add($"slew: {FieldText.Number(Math.Round((steps + 0.2m) * Math.Abs(_scale) * 1_000_000 / steadyUs, 6))}");
    }

    private string Meaning(int signedChance)
    {
        var text = new StringBuilder();
        Signed = dice.Chance(signedChance);
        if (Signed)
            text.Append(", signed: yes");
        (_scale, _offset) = (1, 0);
        if (!dice.Chance(60))
        {
            (_scale, _offset) = (dice.Pick(0.5m, 0.1m, 0.01m, 0.25m, 2m, -0.5m), dice.Pick(0m, -40m, 12.5m));
            text.Append($", scale: {FieldText.Number(_scale)}, offset: {FieldText.Number(_offset)}, unit: \"{dice.Pick("km/h", "°C", "%", "*/")}\"");
        }
        return text.ToString();
    }

    private decimal Raw()
    {
        decimal raw = dice.Chance(30) ? (1UL << (bits - 1)) : dice.Bits(bits);
        return Signed && raw >= Power / 2 ? raw - Power : raw;
    }

    private string Physical(decimal raw) => FieldText.Number((raw * _scale) + _offset);
}
