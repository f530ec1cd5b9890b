using System.Text;
using CsCheck;

namespace Locum.Tests.Properties;

/// <summary>Random outputs of a module: delays, times, conditions, wires read back. Drawn from a source of their own, so that they change no other draw.</summary>
internal static class OutputText
{
    private const string Wire = "Draht";

    /// <summary>The description with outputs, for about every third.</summary>
    /// <param name="mayRead">A module of the board may read a wire back; one of them does.</param>
    public static string Add(string description, ModeText modes, IReadOnlyList<Watched> watched, long pace, bool mayRead)
    {
        var dice = Of(description);
        if (!dice.Chance(35))
            return description;
        var high = dice.Chance(50);
        var reads = mayRead && dice.Chance(50);
        // An output that its own wire switches off needs a pause.
        var debounce = dice.Chance(50) ? 0 : dice.Time(1, 20_000 * pace);
        var lines = new StringBuilder("outputs:\n");
        var names = new[] { "load 1", "Größe", "while", reads ? Wire : "last" };
        for (var i = dice.Between(1, names.Length); i > 0; i--)
            lines.Append($"  {names[^i]}{(names[^i] == Wire ? "" : mayRead ? "" : " b")}: {{{Body(names[^i] == Wire)}}}\n");
        var text = description + lines;
        return !reads ? text
            : text.Contains("\ninputs:\n", StringComparison.Ordinal) ? text.Replace("\ninputs:\n", $"\ninputs:\n{Input()}", StringComparison.Ordinal)
            : text + $"inputs:\n{Input()}";

        string Input() => $"  {Wire}: {{active: {Level(high)}, debounce: {debounce} us}}\n";

        string Body(bool isWire)
        {
            var parts = new List<string> { $"active: {Level(isWire ? high : dice.Chance(50))}" };
            if (modes.Text.Length > 0 && dice.Chance(60))
                parts.Add($"in: [{string.Join(", ", dice.Some(modes.Sending, 1))}]");
            if (dice.Chance(50) && Alternatives() is { Length: > 0 } alternatives)
                parts.Add($"while: {alternatives}");
            if (dice.Chance(60))
                parts.Add($"after: {dice.Text(dice.Time(1, 60_000 * pace))}");
            if (dice.Chance(40))
                parts.Add($"for: {dice.Text(dice.Time(1, 60_000 * pace))}");
            return string.Join(", ", parts);
        }

        string Alternatives()
        {
            var all = Enumerable.Range(0, dice.Between(1, 3)).Select(_ => dice.Some(watched, 0).Take(2).Select(w => dice.Pick(w.Tests).Text).Concat(reads && dice.Chance(50) ? [$"{Wire}: {(debounce < 1000 ? "active" : dice.Pick("active", "inactive"))}"] : [])
                .ToList()).Where(c => c.Count > 0).Select(c => $"{{{string.Join(", ", c)}}}").ToList();
            return all.Count > 1 ? $"[{string.Join(", ", all)}]" : string.Concat(all);
        }
    }

    /// <summary>The guards with what brown-outs do to outputs.</summary>
    public static string Guard(string guards, string description)
    {
        var dice = Of(description);
        if (!dice.Chance(50))
            return guards;
        var own = dice.Chance(20) ? "brown-outs: ignore" : $"brown-outs: {{most: {dice.Between(0, 2)}, steady: {dice.Time(1_000, 2_000_000)} us}}";
        return guards.Length > 0 ? $"{guards[..^1]}, {own}}}" : $"{{{own}}}";
    }

    private static string Level(bool high) => high ? "high" : "low";

    private static Dice Of(string text)
    {
        var hash = text.Aggregate(14695981039346656037UL, (h, c) => (h ^ c) * 1099511628211UL);
        return new Dice(new PCG(17, hash));
    }
}
