using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Text;

namespace Locum.Pipeline;

/// <summary>What came of reading a path: a project with its boards, or one module by itself on the PC.</summary>
public sealed record Loaded
{
    /// <summary>Null when the path held nothing usable.</summary>
    public Project? Project { get; init; }

    /// <summary>The stimulus that the path held; null when it held something else.</summary>
    public Stimulus? Stimulus { get; init; }

    /// <summary>One for every usable board, in the project's order.</summary>
    public required IReadOnlyList<BoardPlan> Plans { get; init; }

    /// <summary>What each board is simulated with by default, by board name.</summary>
    public required IReadOnlyDictionary<string, Stimulus> Stimuli { get; init; }

    public required DiagnosticBag Diagnostics { get; init; }

    /// <summary>Every text that was read, by path, for excerpts.</summary>
    public required IReadOnlyDictionary<string, SourceText> Sources { get; init; }
}
