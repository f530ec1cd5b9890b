using Locum.Binding;

namespace Locum.Schema;

/// <summary>The keys of counters: one line each, in the order in which they are written.</summary>
internal static class CounterSections
{
    private static readonly Key[] s_keys =
    [
        new("from", new Whole(0, uint.MaxValue), "The value before the counter wraps; above 'to' it counts down.", "0") { Default = "0" },
        new("to", new Whole(0, uint.MaxValue), "The last value; a field's own counter fills the field by default.", "14"),
        new("step", new Whole(1, uint.MaxValue), "Distance between values.", "1") { Default = "1" },
        new("every", new Whole(1, CounterBinder.MostEvery), "Frames for one step.", "5") { Default = "1" },
        new("start", new Whole(0, uint.MaxValue), "The first value at power-on; 'from' by default.", "0"),
        new("advance", new Words("sent", "slot"), "sent: when the controller has accepted the frame; slot: also when a release was skipped.", "sent") { Default = "sent" },
        new("restart", new Words("never", "entry"), "entry: returns to 'start' when a frame with the counter starts sending.", "entry") { Default = "never" },
    ];

    /// <summary>A field's own counter.</summary>
    public static Section Counter { get; } = new()
    {
        Name = "counter",
        What = "a counter",
        Description = "A number that moves with the frames that carry it.",
        Keys = s_keys,
    };

    /// <summary>A counter under 'counters', which has no field to take its last value from.</summary>
    public static Section SharedCounter { get; } = Counter with
    {
        Name = "shared-counter",
        Keys = [.. s_keys.Select(k => k.Name is "to" ? k with { Required = true } : k)],
    };
}
