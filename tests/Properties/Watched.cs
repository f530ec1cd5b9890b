namespace Locum.Tests.Properties;

/// <summary>Something that conditions look at, as a few states that exclude each other, with the tests that tell them apart.</summary>
internal sealed record Watched(int States, IReadOnlyList<(string Text, int[] In)> Tests)
{
    public static Watched Of(WorldInput input) => new(2, [($"{input.Name}: inactive", [0]), ($"{input.Name}: active", [1])]);

    /// <summary>Lost (0), or there with the raw value of one of the fields below (1), at (2) or above (3) its limit.</summary>
    public static Watched Of(Dice dice, DrawnReceive received)
    {
        List<(string, int[])> tests = [($"{received.Name}: lost", [0]), ($"{received.Name}: received", [1, 2, 3])];
        if (received.Fields.Count > 0)
        {
            var field = dice.Pick(received.Fields);
            var name = $"{received.Name}.{field.Name}";
            var limit = field.Physical(field.Limit);
            // What is more in meaning is less in bits when the scale is negative.
            var (less, more) = field.Scale < 0 ? (3, 1) : (1, 3);
            tests.AddRange([($"{name}: {limit}", [2]), ($"{name}: {{at least: {limit}}}", [2, more]), ($"{name}: {{below: {limit}}}", [less]), ($"{name}: {{not: {limit}}}", [1, 3])]);
        }
        return new Watched(4, tests);
    }
}
