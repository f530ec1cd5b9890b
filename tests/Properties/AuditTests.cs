using Locum.Auditing;
using Locum.Simulation;
using Locum.Tests.Unit.Capture;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Properties;

/// <summary>What the simulator sends is what the description says, so an audit of it finds nothing.</summary>
public sealed class AuditTests(ITestOutputHelper log)
{
    private const int Count = 150;

    [Fact]
    public void The_simulators_own_output_audits_clean()
    {
        var (frames, judged) = (0L, 0L);
        Cases.Run(log, new DescriptionGen(), Count, project =>
        {
            var loaded = project.Load();
            var plan = Locum.Planning.BoardPlanner.Plan(loaded.Use with { Guards = new Locum.Model.Guards() }, new Locum.Diagnostics.DiagnosticBag())!;
            var own = plan.Frames.Select(f => (plan.Buses[f.Bus].Name, f.Frame.Id)).ToHashSet();
            foreach (var stimulus in loaded.Stimuli)
            {
                var quiet = stimulus with { Blocked = [], Stalls = [], BusOffs = [], Resets = [], Traffic = [.. stimulus.Traffic.Where(t => !own.Contains((t.Bus, t.Id)))] };
                var result = Simulator.Run([plan], quiet);
                var recording = Recordings.Of(result.Frames, [.. plan.Buses.Select(b => b.Name)]);
                frames += recording.FrameCount;
                if (recording.FrameCount is 0)
                    continue;
                var audit = Audit.Of([plan], recording, null);
                judged += audit.Judged;
                var findings = audit.Findings.Where(f => f.Kind is not FindingKind.NeverSent).Select(f => $"{f.Kind} {f.Module}.{f.Frame} {f.FirstUs}..{f.LastUs} x{f.Count}: {f.Message}").ToList();
                Assert.True(findings.Count is 0, string.Join('\n', findings));
            }
        });
        log.WriteLine($"{judged} of {frames} frames judged");
        Assert.True(!Cases.Whole || judged > 10_000);
    }
}
