using Locum.Text;

namespace Locum.Model;

/// <summary>Which modules run on which boards.</summary>
public sealed record Project(string Name, string Summary, IReadOnlyList<BoardUse> Boards, string Path);

/// <summary>One board of a project.</summary>
public sealed record BoardUse
{
    public required string Name { get; init; }

    /// <summary>Name of the kind of board.</summary>
    public required string Kind { get; init; }

    public required Span KindSpan { get; init; }

    public required IReadOnlyList<Module> Modules { get; init; }

    /// <summary>Settings by bus name, then by setting.</summary>
    public required IReadOnlyDictionary<string, IReadOnlyDictionary<string, Setting>> BusSettings { get; init; }

    /// <summary>Settings by input name (pin, pull).</summary>
    public required IReadOnlyDictionary<string, IReadOnlyDictionary<string, Setting>> InputSettings { get; init; }

    /// <summary>Settings by output name (pin).</summary>
    public IReadOnlyDictionary<string, IReadOnlyDictionary<string, Setting>> OutputSettings { get; init; } = new Dictionary<string, IReadOnlyDictionary<string, Setting>>();

    /// <summary>The LED's pin; null for the board's default.</summary>
    public Setting? Led { get; init; }

    public Guards Guards { get; init; } = new();

    /// <summary>True when the board keeps its usual bootloader.</summary>
    public bool Bootloader { get; init; }

    /// <summary>File with a stimulus for simulation and proof; null when none is named.</summary>
    public string? StimulusPath { get; init; }

    public required Span Span { get; init; }
}

/// <summary>A word from a project file.</summary>
public sealed record Setting(string Value, Span Span);
