namespace Locum.Tests.Properties;

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
        if (dice.Chance(15))
            parts.Insert(0, $"every: {dice.Between(2, 7)}");
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
