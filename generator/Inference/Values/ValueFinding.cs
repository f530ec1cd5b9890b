namespace Locum.Inference.Values;

/// <summary>Bits that change for a reason that is not known, grouped to a field.</summary>
public sealed record ValueFinding
{
    /// <summary>Where they lie; width and order are a guess from how often each bit changes.</summary>
    public required FieldPlace Place { get; init; }

    /// <summary>The value in the first frame.</summary>
    public required ulong Initial { get; init; }

    /// <summary>The value that stood longest.</summary>
    public required ulong Usual { get; init; }

    /// <summary>Lowest and highest value.</summary>
    public required (ulong Low, ulong High) Range { get; init; }

    /// <summary>Different values, counted up to <see cref="MostDistinct"/>.</summary>
    public required int Distinct { get; init; }

    /// <summary>Frames whose value differs from that of the frame before.</summary>
    public required int Changes { get; init; }

    /// <summary>The first changes: number of the frame among those of the usual length, and its value.</summary>
    public required IReadOnlyList<(int Frame, ulong Value)> History { get; init; }

    /// <summary>Different values are not counted beyond this.</summary>
    public const int MostDistinct = 1_000;

    /// <summary>Changes are not kept beyond this.</summary>
    public const int MostHistory = 64;
}
