namespace Locum.Inference.Paging;

/// <summary>Payloads that come in turn.</summary>
public sealed record PageFinding
{
    /// <summary>
    /// The payloads in their order, beginning with that of the first frame of <see cref="FirstFrame"/>; bits that do not take part are
    /// as in most frames.
    /// </summary>
    public required IReadOnlyList<byte[]> Pages { get; init; }

    /// <summary>Bits that differ from page to page, as byte × 8 + bit, rising.</summary>
    public required IReadOnlyList<int> Bits { get; init; }

    /// <summary>Bits that vary on a page, which then has their usual value.</summary>
    public IReadOnlyList<(int Bit, int Page)> Varying { get; init; } = [];

    /// <summary>The number of the frame (among those of the usual length) that carries the first page.</summary>
    public required int FirstFrame { get; init; }

    /// <summary>The narrowest field that tells the pages apart; null when none does by itself.</summary>
    public FieldPlace? Selector { get; init; }

    /// <summary>Frames that equal the one a round before.</summary>
    public required Evidence Evidence { get; init; }
}
