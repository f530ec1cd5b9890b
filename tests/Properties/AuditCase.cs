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
        Plan = BoardPlanner.Plan(loaded.Use with { Guards = new Guards() }, new DiagnosticBag())!;
        _own = [.. Plan.Frames.Select(f => (Plan.Buses[f.Bus].Name, f.Frame.Id))];
    }

    public BoardPlan Plan { get; }

    public IReadOnlyList<string> Buses => [.. Plan.Buses.Select(b => b.Name)];

    /// <summary>What is on the buses when nothing disturbs them and nobody else sends the board's identifiers.</summary>
    public SimulationResult Quiet(Stimulus stimulus) => Simulator.Run([Plan], Alone(stimulus) with { Blocked = [], Stalls = [], BusOffs = [] });

    /// <summary>The same with blocked buses, stalls and bus-offs.</summary>
    public SimulationResult Disturbed(Stimulus stimulus) => Simulator.Run([Plan], Alone(stimulus));

    public List<LogEntry> Log(SimulationResult result) => [.. result.Frames.Where(f => f.EndUs >= 0).Select(Recordings.Entry)];

    public AuditResult Audit(IReadOnlyList<LogEntry> log) => Locum.Auditing.Audit.Of([Plan], Recordings.Of(log, Buses), null);

    /// <summary>Findings but those about modules that the stimulus never woke.</summary>
    public static List<Finding> Findings(AuditResult result) => [.. result.Findings.Where(f => f.Kind is not FindingKind.NeverSent || f.Frame is not null)];

    public static string Text(IEnumerable<Finding> findings) =>
        string.Join('\n', findings.Select(f => $"{f.Kind} {f.Module}.{f.Frame} {f.FirstUs}..{f.LastUs} x{f.Count}: {f.Message}"));

    private Stimulus Alone(Stimulus stimulus) => stimulus with { Resets = [], Traffic = [.. stimulus.Traffic.Where(t => !_own.Contains((t.Bus, t.Id)))] };
}
