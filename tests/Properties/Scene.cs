namespace Locum.Tests.Properties;

/// <summary>A stretch of a stimulus in which much happens; between scenes only the traffic goes on. Times in µs.</summary>
internal sealed record Scene(long FromUs, long LengthUs)
{
    private const int MostMore = 6;

    public long UntilUs => FromUs + LengthUs;

    /// <summary>One scene at power-on and, in a run that lasts longer, some more in order of time.</summary>
    public static IReadOnlyList<Scene> Draw(Dice dice, World world)
    {
        var scenes = new List<Scene> { new(0, world.Pace * dice.Time(150_000, 900_000)) };
        var rest = world.LeastUs - scenes[0].LengthUs;
        for (var i = rest > 0 ? dice.Between(2, MostMore) : 0; i > 0; i--)
        {
            var length = Math.Min(rest, world.Pace * dice.Time(150_000, 900_000));
            scenes.Add(new Scene(dice.Between(scenes[0].UntilUs, world.LeastUs - length), length));
        }
        return [.. scenes.OrderBy(s => s.FromUs)];
    }

    /// <summary>A time within the scene.</summary>
    public long Time(Dice dice, long first = 0) => dice.Between(Math.Max(first, FromUs), UntilUs);
}
