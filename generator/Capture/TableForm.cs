namespace Locum.Capture;

/// <summary>A table as recognised or described: how its rows are read, and what else there is.</summary>
internal sealed record TableForm
{
    public required RowPlan Plan { get; init; }

    /// <summary>How rows of another shape are read, when there are two; null when there is one.</summary>
    public RowPlan? Second { get; init; }

    /// <summary>Lines in front that are not looked at.</summary>
    public int Skip { get; init; }

    /// <summary>How lines start that are no rows, beside the usual signs; empty for none.</summary>
    public byte[] Comment { get; init; } = [];

    /// <summary>The line of column names; empty when there is none.</summary>
    public byte[] Header { get; init; } = [];

    /// <summary>Number of that line.</summary>
    public long HeaderLine { get; init; }

    /// <summary>What each column was taken for, and why.</summary>
    public required IReadOnlyList<CaptureColumn> Columns { get; init; }

    /// <summary>Unit and zero of the times, and how that is known.</summary>
    public required string TimeText { get; init; }

    /// <summary>The form in a few words.</summary>
    public required string Text { get; init; }
}
