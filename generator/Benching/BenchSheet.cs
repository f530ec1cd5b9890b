namespace Locum.Benching;

/// <summary>What to build and what to expect around one module's board.</summary>
public sealed record BenchSheet
{
    public required string Module { get; init; }

    /// <summary>The word of its hazard class.</summary>
    public required string Hazard { get; init; }

    /// <summary>Sentences, most important first.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }

    public required IReadOnlyList<BenchTable> Tables { get; init; }

    /// <summary>What does not hold as it is described; empty when all of it does.</summary>
    public required IReadOnlyList<string> Problems { get; init; }

    /// <summary>What the description does not say and the sheet therefore cannot.</summary>
    public required IReadOnlyList<string> Missing { get; init; }

    public bool Holds => Problems.Count is 0;
}

/// <summary>A table with its reasons.</summary>
/// <param name="Key">One word for programs.</param>
/// <param name="Notes">What the figures rest on, each in a sentence.</param>
public sealed record BenchTable(string Key, string Title, IReadOnlyList<string> Columns, IReadOnlyList<IReadOnlyList<BenchCell>> Rows, IReadOnlyList<string> Notes);

/// <summary>A cell: a text, and behind it a number in a base unit where it is one.</summary>
public sealed record BenchCell(string Text, double? Value = null, string Unit = "");

/// <summary>A line of the parts list.</summary>
/// <param name="For">The resistor, load or bus that it is for.</param>
public sealed record BenchItem(string For, int Count, string Part);

/// <summary>A part of the sheet on its own.</summary>
internal sealed record BenchSection(BenchTable? Table, IReadOnlyList<BenchItem> Items, IReadOnlyList<string> Problems)
{
    public static BenchSection None { get; } = new(null, [], []);
}
