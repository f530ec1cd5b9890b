using Locum.Model;
using Locum.Planning;
using Xunit;

namespace Locum.Tests.Firmware;

/// <summary>Runs a board and holds all it does against the simulator.</summary>
internal static class BoardCheck
{
    /// <summary>Fails on other bytes, times or order of acceptance, then on other identifiers, formats or order on the wire.</summary>
    public static (EmulatedRun Run, Latency Latency) Run(EmulatedBoard board, BoardPlan plan, Stimulus stimulus, double toleranceUs)
    {
        var run = board.Run(stimulus);
        var expected = board.Simulate(stimulus);
        var latency = Latency.Check(plan, expected, run, toleranceUs);
        foreach (var bus in plan.Buses.Select(b => b.Name))
        {
            var wanted = expected.Frames.Where(f => f.Bus == bus && f.Sender.Length > 0 && f.StartUs >= 0).OrderBy(f => f.StartUs).Select(f => (f.Id, f.Format)).ToList();
            var sent = run.Output.Frames.Where(f => f.Bus == bus && f.StartUs >= 0).OrderBy(f => f.StartUs).Select(f => (f.Id, f.Format)).ToList();
            var count = Math.Min(wanted.Count, sent.Count) - 1;
            Assert.Equal(wanted.Take(count), sent.Take(count));
        }
        return (run, latency);
    }
}
