using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Simulation;

namespace Locum.Cli;

/// <summary>Simulates boards of a session.</summary>
internal static class SessionRun
{
    /// <summary>Null, after a finding is reported, when outputs switched without end.</summary>
    public static SimulationResult? Of(Terminal terminal, Session session, IReadOnlyList<BoardPlan> plans, Stimulus stimulus)
    {
        var result = Simulator.Run(plans, stimulus);
        if (result.Runaway is not { } runaway)
            return result;
        var findings = new DiagnosticBag();
        findings.Add(Codes.Runaway, plans[runaway.Board].Outputs[runaway.Output].Output.Span, RunawayNote.Of(plans, runaway), "cut the circle: another condition, an 'after', or a 'debounce' on its wire");
        terminal.Report(findings.Sorted, session.Loaded.Sources);
        return null;
    }
}
