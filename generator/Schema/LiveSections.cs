namespace Locum.Schema;

/// <summary>The keys of values that move with the releases of their frame: one line each, in the order in which they are written.</summary>
internal static class LiveSections
{
    /// <summary>A value that goes from one to another.</summary>
    public static Section Ramp { get; } = new()
    {
        Name = "ramp",
        What = "a ramp",
        Description = "A value that goes evenly from one to another.",
        Keys =
        [
            new("from", Shapes.Value, "The first value, physical.", "0") { Required = true },
            new("to", Shapes.Value, "The last value, physical.", "100") { Required = true },
            new("over", Shapes.Time, "How long it takes.", "5 s") { Required = true },
            new("then", new Words("hold", "repeat", "back"), "At the end: stays, begins again, or goes back.", "back") { Default = "hold" },
        ],
    };

    /// <summary>A value that wanders.</summary>
    public static Section Noise { get; } = new()
    {
        Name = "noise",
        What = "noise",
        Description = "A value that wanders around another, the same on every run.",
        Keys =
        [
            new("around", Shapes.Value, "The middle value, physical.", "21") { Required = true },
            new("span", Shapes.Number, "The largest deviation, physical.", "0.5") { Required = true },
            new("seed", new Whole(1, uint.MaxValue), "Another seed gives other values.", "7") { Required = true },
        ],
    };
}
