using Locum.Auditing;
using Locum.Capture;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Simulation;
using Locum.Tests.Unit.Capture;
using Xunit;

namespace Locum.Tests.Properties;

/// <summary>A generated board without guards, and logs of what it sends.</summary>
internal sealed class AuditCase
{
    private readonly HashSet<(string Bus, Wire.CanId Id)> _own;

    public AuditCase(LoadedProject loaded)
    {
        Plan = BoardPlanner.Plan(loaded.Use with { Guards = new Guards { ForeignSender = false } }, new DiagnosticBag())!;
        _own = [.. Plan.Frames.Select(f => (Plan.Buses[f.Bus].Name, f.Frame.Id))];
    }

    public BoardPlan Plan { get; }

    public IReadOnlyList<string> Buses => [.. Plan.Buses.Select(b => b.Name)];

    /// <summary>What is on the buses when nothing disturbs them and nobody else sends the board's identifiers.</summary>
    /// <param name="other">The board's firmware where it is not the right one.</param>
    /// <param name="also">Another node on the buses.</param>
    public SimulationResult Quiet(Stimulus stimulus, BoardPlan? other = null, Traffic? also = null)
    {
        var alone = Alone(stimulus) with { Stalls = [] };
        return Simulator.Run([other ?? Plan], also is null ? alone : alone with { Traffic = [.. alone.Traffic, also] });
    }

    /// <summary>The same with a board that stalls now and then.</summary>
    public SimulationResult Stalling(Stimulus stimulus) => Simulator.Run([Plan], Alone(stimulus));

    /// <summary>The plan with another frame in the place of one.</summary>
    public BoardPlan With(PlannedFrame frame, Frame instead) => Plan with { Frames = [.. Plan.Frames.Select(f => f == frame ? f with { Frame = instead } : f)] };

    public static List<LogEntry> Log(SimulationResult result) => [.. result.Frames.Where(f => f.EndUs >= 0).Select(Recordings.Entry)];

    public AuditResult Audit(IReadOnlyList<LogEntry> log) => Locum.Auditing.Audit.Of([Plan], Recordings.Of(log, Buses), null);

    /// <summary>Findings but those about modules that the stimulus never woke.</summary>
    public static List<Finding> Findings(AuditResult result) => [.. result.Findings.Where(f => f.Kind is not FindingKind.NeverSent || f.Frame is not null)];

    public static string Text(IEnumerable<Finding> findings) =>
        string.Join('\n', findings.Select(f => $"{f.Kind} {f.Module}.{f.Frame} {f.FirstUs}..{f.LastUs} x{f.Count}: {f.Message}"));

    private Stimulus Alone(Stimulus stimulus) => stimulus with { Resets = [], BusOffs = [], Blocked = [], Traffic = [.. stimulus.Traffic.Where(t => !_own.Contains((t.Bus, t.Id)))] };
}
