using Locum.Text;

namespace Locum.Model;

/// <summary>A number that moves with the frames that carry it. Runs from <see cref="From"/> to <see cref="To"/>, upwards or downwards.</summary>
public sealed record Counter
{
    public required string Name { get; init; }

    public required uint From { get; init; }

    public required uint To { get; init; }

    /// <summary>Distance between values, at least 1, without direction.</summary>
    public required uint Step { get; init; }

    /// <summary>Frames for one step, at least 1.</summary>
    public uint Every { get; init; } = 1;

    /// <summary>The first value at power-on.</summary>
    public required uint Start { get; init; }

    /// <summary>Also advances for skipped releases.</summary>
    public required bool PerSlot { get; init; }

    /// <summary>Returns to <see cref="Start"/> when a frame that carries it starts sending.</summary>
    public required bool RestartOnEntry { get; init; }

    public required Span Span { get; init; }

    public uint Highest => Math.Max(From, To);

    /// <summary>How many values there are before the first comes again.</summary>
    public ulong Count => ((ulong)(Math.Max(From, To) - Math.Min(From, To)) / Step) + 1;
}
