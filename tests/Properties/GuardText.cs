namespace Locum.Tests.Properties;

/// <summary>Random guards of a board.</summary>
internal static class GuardText
{
    /// <summary>A flow mapping. An enable input of the board's own joins the world's inputs.</summary>
    public static string Of(Dice dice, World world)
    {
        var guards = new List<string>();
        // Another node often sends the board's identifiers here, and most boards are to send on; longer runs see it more often.
        if (dice.Chance(world.LeastUs > 0 ? 92 : 75))
            guards.Add("foreign sender: ignore");
        if (dice.Chance(50))
            guards.Add($"bus off: {{recoveries: {dice.Between(0, 4)}, within: {world.Pace * dice.Time(1_000, 200_000)} us, wait: {world.Pace * dice.Time(1_000, 60_000)} us}}");
        if (dice.Chance(25))
            guards.Add($"enable: {{{Enable(dice, world)}}}");
        if (dice.Chance(20))
            guards.Add($"run at most: {dice.Time(world.Pace * 100_000, Math.Max(world.Pace * 900_000, world.LeastUs))} us");
        if (dice.Chance(40))
            guards.Add($"reset: {dice.Pick("cold", "resume")}");
        return guards.Count is 0 ? "" : $"{{{string.Join(", ", guards)}}}";
    }

    private static string Enable(Dice dice, World world)
    {
        if (world.Inputs.Count > 0 && dice.Chance(40))
            return $"input: \"{dice.Pick([.. world.Inputs]).Name}\"";
        var own = new WorldInput("bench", dice.Chance(50), dice.Chance(30) ? 0 : dice.Time(1, 30_000 * world.Pace));
        world.Inputs.Add(own);
        return $"input: bench, active: {(own.High ? "high" : "low")}, debounce: {own.DebounceUs} us";
    }
}
