using Locum.Auditing;
using Locum.Model;
using Locum.Planning;
using Locum.Simulation;
using Locum.Tests.Unit.Capture;
using Locum.Wire;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Properties;

/// <summary>What the simulator sends is what the description says; what is done to it afterwards is found.</summary>
public sealed class AuditTests(ITestOutputHelper log)
{
    private const int Count = 120;
    private const int Enough = 25;
    private const long Fast = 3_000;
    private const double MostLoad = 0.5;

    // What a board that stands still does to frames.
    private static readonly FindingKind[] s_late =
    [
        FindingKind.Missing, FindingKind.NeverSent, FindingKind.LateStart, FindingKind.EarlyEnd, FindingKind.Period, FindingKind.Jitter,
        FindingKind.AnswerMissing, FindingKind.AnswerLate, FindingKind.Mode,
    ];

    [Fact]
    public void The_simulators_own_output_audits_clean()
    {
        var judged = 0L;
        Cases.Run(log, new DescriptionGen(), Count, project =>
        {
            var loaded = project.Load();
            var audited = new AuditCase(loaded);
            foreach (var stimulus in loaded.Stimuli)
            {
                var entries = AuditCase.Log(audited.Quiet(stimulus));
                if (entries.Count is 0)
                    continue;
                var result = audited.Audit(entries);
                judged += result.Judged;
                Assert.True(AuditCase.Findings(result).Count is 0, AuditCase.Text(AuditCase.Findings(result)));
            }
        });
        log.WriteLine($"{judged} frames judged");
        Assert.True(!Cases.Whole || judged > 50_000);
    }

    [Fact]
    public void A_board_that_stalls_makes_frames_late_but_never_wrong()
    {
        var found = 0;
        Cases.Run(log, new DescriptionGen(), Count, project =>
        {
            var loaded = project.Load();
            var audited = new AuditCase(loaded);
            foreach (var stimulus in loaded.Stimuli)
            {
                var entries = AuditCase.Log(audited.Stalling(stimulus));
                if (entries.Count is 0)
                    continue;
                var findings = AuditCase.Findings(audited.Audit(entries));
                // What was received meanwhile counts only when the board goes on; no capture shows every slot that it skipped.
                var wrong = findings.Where(f => !s_late.Contains(f.Kind) && !(f.Kind is FindingKind.Counter && loaded.Plan.Modules.Any(m => m.Module.Name == f.Module && m.Module.Counters.Any(c => c.PerSlot))) && !(f.Kind is FindingKind.Value && (f.Message.Contains("does not follow", StringComparison.Ordinal) || f.Message.Contains("formula", StringComparison.Ordinal)))).ToList();
                Assert.True(wrong.Count is 0, AuditCase.Text(wrong));
                found += findings.Count;
            }
        }, 5_000);
        log.WriteLine($"{found} findings");
        Assert.True(!Cases.Whole || found > 20);
    }

    [Fact]
    public void Frames_that_are_dropped_are_missing_and_nothing_else() => Each(7_000, (audited, stimulus, entries, frame) =>
    {
        var own = entries.Where(e => Is(audited, frame, e)).ToList();
        var dropped = own.Skip(own.Count / 2).Take(3).ToHashSet();
        Only(audited, [.. entries.Where(e => !dropped.Contains(e))], frame, FindingKind.Missing);
    });

    [Fact]
    public void A_second_sender_is_found_and_nothing_else() => Each(8_000, (audited, stimulus, entries, frame) =>
    {
        // Where others' frames hold it up by as much as the phases are apart, nobody can tell one from the other.
        if (frame.Frame.PeriodUs < 6 * FrameLength.TimeUs(FrameLength.MaximumBits(true, 8), audited.Plan.Buses[frame.Bus].Rate))
            return;
        var payload = entries.Where(e => Is(audited, frame, e)).ElementAt(7).Data;
        var other = new Traffic(audited.Buses[frame.Bus], frame.Frame.Id, payload, frame.Frame.OffsetUs + (frame.Frame.PeriodUs / 3), frame.Frame.PeriodUs, long.MaxValue) { Format = frame.Frame.Format };
        Only(audited, AuditCase.Log(audited.Quiet(stimulus, null, other)), frame, FindingKind.TwoSenders);
    });

    [Fact]
    public void A_frame_of_another_period_is_found_and_nothing_else() => Each(9_000, (audited, stimulus, entries, frame) =>
        Only(audited, AuditCase.Log(audited.Quiet(stimulus, audited.With(frame, frame.Frame with { PeriodUs = frame.Frame.PeriodUs * 5 / 4 }))), frame, FindingKind.Period));

    [Fact]
    public void A_wrong_byte_is_found_in_its_frame() => Each(10_000, (audited, stimulus, entries, frame) =>
    {
        if (frame.Frame.Length is 0)
            return;
        // Bits of no field, and those of fields that are always the same.
        var instead = frame.Frame with { Base = [.. frame.Frame.Base.Select(b => (byte)~b)] };
        var wrong = AuditCase.Log(audited.Quiet(stimulus, audited.With(frame, instead)));
        var differ = wrong.Zip(entries).Any(p => !p.First.Data.SequenceEqual(p.Second.Data));
        var findings = AuditCase.Findings(audited.Audit(wrong));
        Assert.True(findings.TrueForAll(f => f.Frame == frame.Frame.Name && f.Kind is FindingKind.Value), AuditCase.Text(findings));
        Assert.Equal(differ, findings.Count > 0);
    });

    private static void Only(AuditCase audited, List<LogEntry> entries, PlannedFrame frame, FindingKind kind)
    {
        var findings = AuditCase.Findings(audited.Audit(entries));
        Assert.True(findings.Count is 1 && findings[0].Kind == kind && findings[0].Frame == frame.Frame.Name, $"wanted {kind} {frame.Frame.Name}, got\n{AuditCase.Text(findings)}");
    }

    private static bool Is(AuditCase audited, PlannedFrame frame, LogEntry entry) => entry.Id == frame.Frame.Id && entry.Bus == audited.Buses[frame.Bus];

    // Boards with a frame that is sent by its period alone in every mode, on a bus with room.
    private void Each(int first, Action<AuditCase, Stimulus, List<LogEntry>, PlannedFrame> check)
    {
        var tried = 0;
        Cases.Run(log, new DescriptionGen(), 3 * Count, project =>
        {
            var loaded = project.Load();
            var audited = new AuditCase(loaded);
            var (plan, result) = (audited.Plan, audited.Quiet(loaded.Stimuli[0]));
            var entries = AuditCase.Log(result);
            if (plan.Frames.FirstOrDefault(f => IsFit(audited, f, entries)) is not { } frame || Load(plan, frame, result) > MostLoad)
                return;
            check(audited, loaded.Stimuli[0], entries, frame);
            tried++;
        }, first);
        log.WriteLine($"{tried} tried");
        Assert.True(!Cases.Whole || tried >= Enough, $"only {tried} boards were fit for it");
    }

    private static bool IsFit(AuditCase audited, PlannedFrame frame, List<LogEntry> entries) =>
        frame.Frame is { Events: null, Burst: null, PeriodByMode.Count: 0, PeriodUs: >= Fast, Pages.Count: 0 }
        && frame.Owner.Module.Modes.All(m => frame.Frame.Modes.Contains(m.Index))
        && !frame.Owner.Module.Frames.Any(f => f != frame.Frame && f.AllFields.Any(o => o.Source is CounterValue c && frame.Frame.Fields.Any(p => p.Source is CounterValue d && c.Counter == d.Counter)))
        && entries.Count(e => Is(audited, frame, e)) >= Enough;

    private static double Load(BoardPlan plan, PlannedFrame frame, SimulationResult result) =>
        result.Frames.Where(f => f.EndUs >= 0 && f.Bus == plan.Buses[frame.Bus].Name).Sum(f => (double)(f.EndUs - f.StartUs)) / result.EndUs;
}
