namespace Locum.Model;

/// <summary>Faster releases at the start: the first <paramref name="Count"/> are <paramref name="PeriodUs"/> apart.</summary>
public sealed record Burst(int Count, long PeriodUs);

/// <summary>What sends a frame besides its period.</summary>
/// <param name="Repeat">Releases for each event, at least 1.</param>
/// <param name="SpacingUs">Distance between them, µs.</param>
/// <param name="GapUs">Least distance from the frame's last release to one by an event, µs.</param>
/// <param name="Changes">Indexes of the fields whose change is an event.</param>
public sealed record Events(IReadOnlyList<Trigger> Triggers, int Repeat, long SpacingUs, long GapUs, IReadOnlyList<int> Changes);

/// <summary>Something that happens and sends a frame.</summary>
/// <param name="Index">Index of the mode, input, received frame or frame in the module's list; 0 for a start.</param>
/// <param name="AfterUs">From the event to the release, µs.</param>
public sealed record Trigger(TriggerKind Kind, int Index, long AfterUs);

public enum TriggerKind
{
    /// <summary>The frame starts sending.</summary>
    Start,

    /// <summary>The module enters a mode.</summary>
    Mode,

    /// <summary>An input settles active.</summary>
    InputActive,

    /// <summary>An input settles inactive.</summary>
    InputInactive,

    /// <summary>A frame is received.</summary>
    Received,

    /// <summary>Another frame of the module is released.</summary>
    Frame,
}

/// <summary>One of the payloads that a frame sends in turn.</summary>
/// <param name="Base">Payload before any field is written; as long as the frame.</param>
/// <param name="Fields">Fields of this page only.</param>
public sealed record Page(byte[] Base, IReadOnlyList<Field> Fields);
