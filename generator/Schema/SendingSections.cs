namespace Locum.Schema;

/// <summary>The keys of ways of sending: one line each, in the order in which they are written.</summary>
internal static class SendingSections
{
    /// <summary>The fast beginning of a cyclic frame.</summary>
    public static Section Burst { get; } = new()
    {
        Name = "burst",
        What = "a burst",
        Description = "The fast beginning of a cyclic frame.",
        Keys =
        [
            new("first", new Whole(2, 255), "How many frames come fast.", "5") { Required = true },
            new("every", Shapes.Time, "Their distance.", "10 ms") { Required = true },
        ],
    };

    /// <summary>Something that happens and sends a frame.</summary>
    public static Section Event { get; } = new()
    {
        Name = "event",
        What = "an event",
        Description = "Something that happens and sends the frame: one of start, mode, input, receive, frame and change.",
        OneOf = ["start", "mode", "input", "receive", "frame", "change"],
        Keys =
        [
            new("start", new Words("yes"), "The frame starts sending.", "yes"),
            new("mode", Shapes.Text, "The module enters this mode.", "running"),
            new("input", Shapes.Text, "This input settles.", "door"),
            new("level", Shapes.Level, "The level at which it settles.", "inactive") { Default = "active", Needs = "input" },
            new("receive", Shapes.Text, "This frame is received.", "DriveSpeed"),
            new("frame", Shapes.Text, "This other frame of the module is released.", "HeatStatus"),
            new("change", Shapes.OneOrMany(Shapes.Text), "One of these fields changes.", "[state, speed]"),
            new("after", Shapes.Time, "From the event to the release.", "2 ms") { Default = "0 ms" },
        ],
    };
}
