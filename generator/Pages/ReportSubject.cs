using Locum.Auditing;
using Locum.Budgeting;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Simulation;
using Locum.Text;

namespace Locum.Pages;

/// <summary>What a report is about: boards, and what each stage found about them.</summary>
public sealed record ReportSubject
{
    public required string Title { get; init; }

    /// <summary>Version of the program.</summary>
    public required string Version { get; init; }

    public required Project Project { get; init; }

    public required IReadOnlyList<BoardPlan> Plans { get; init; }

    /// <summary>What the boards were simulated with.</summary>
    public required Stimulus Stimulus { get; init; }

    /// <summary>False when no stimulus was given: all inputs are active then.</summary>
    public required bool HasStimulus { get; init; }

    public required SimulationResult Result { get; init; }

    public required IReadOnlyList<BusBudget> Budgets { get; init; }

    /// <summary>An audit and the path of its capture; null when there is none.</summary>
    public (string Capture, AuditResult Result)? Audit { get; init; }

    /// <summary>What the check found, worst first.</summary>
    public required IReadOnlyList<Diagnostic> Findings { get; init; }

    /// <summary>Every text that was read, by path.</summary>
    public required IReadOnlyDictionary<string, SourceText> Sources { get; init; }

    /// <summary>Modules with their boards, in the project's order.</summary>
    public IEnumerable<(BoardPlan Plan, PlannedModule Planned)> Modules => Plans.SelectMany(p => p.Modules.Select(m => (p, m)));

    /// <summary>Frames with their modules, in the descriptions' order.</summary>
    public IEnumerable<ReportFrame> Frames =>
        Modules.SelectMany(m => m.Plan.Frames.Where(f => f.Owner == m.Planned).OrderBy(f => f.IndexInModule).Select(f => new ReportFrame(m.Plan, f)));
}

/// <summary>A frame of a board.</summary>
public sealed record ReportFrame(BoardPlan Plan, PlannedFrame Planned)
{
    public string Bus => Plan.Buses[Planned.Bus].Name;
}
