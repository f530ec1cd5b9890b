using Locum.Text;

namespace Locum.Model;

/// <summary>What the author knows of a table of frames; what is null or empty is recognised.</summary>
public sealed record TableLayout
{
    public required string Name { get; init; }

    /// <summary>Path of the file as given.</summary>
    public required string Path { get; init; }

    /// <summary>The character between columns; a blank stands for any run of blanks and tabs.</summary>
    public char? Separator { get; init; }

    /// <summary>Lines in front of everything else.</summary>
    public int Skip { get; init; }

    /// <summary>How lines start that are no rows; empty for the usual signs.</summary>
    public string Comment { get; init; } = "";

    /// <summary>The first row names the columns.</summary>
    public bool? Header { get; init; }

    /// <summary>Columns in their order, or with the names that the header gives them.</summary>
    public IReadOnlyList<LayoutColumn> Columns { get; init; } = [];

    /// <summary>Columns are found by name.</summary>
    public bool ByName { get; init; }

    public TimeUnit? Unit { get; init; }

    /// <summary>Times have a decimal comma.</summary>
    public bool? DecimalComma { get; init; }

    public NumberBase? IdBase { get; init; }

    public NumberBase? LengthBase { get; init; }

    public NumberBase? DataBase { get; init; }

    public IdKindRule? IdKind { get; init; }

    /// <summary>Name of the bus in captures that name none; empty for the usual one.</summary>
    public string Bus { get; init; } = "";

    /// <summary>Where the columns stand, for findings.</summary>
    public required Span ColumnsSpan { get; init; }
}
