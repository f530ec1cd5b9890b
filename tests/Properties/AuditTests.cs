using Locum.Auditing;
using Locum.Planning;
using Locum.Simulation;
using Locum.Tests.Unit.Capture;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Properties;

/// <summary>What the simulator sends is what the description says; what is done to it afterwards is found.</summary>
public sealed class AuditTests(ITestOutputHelper log)
{
    private const int Count = 120;
    private const int Enough = 30;
    private const long Fast = 3_000;
    private const double MostLoad = 0.5;

    // What a busy or blocked bus and a board that stands still can do to frames.
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
                var entries = audited.Log(audited.Quiet(stimulus));
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
    public void Blocked_buses_and_stalled_boards_make_frames_late_but_never_wrong()
    {
        var found = 0;
        Cases.Run(log, new DescriptionGen(), Count, project =>
        {
            var loaded = project.Load();
            var audited = new AuditCase(loaded);
            foreach (var stimulus in loaded.Stimuli)
            {
                var entries = audited.Log(audited.Disturbed(stimulus));
                if (entries.Count is 0)
                    continue;
                var findings = AuditCase.Findings(audited.Audit(entries));
                var wrong = findings.Where(f => !s_late.Contains(f.Kind)).ToList();
                Assert.True(wrong.Count is 0, AuditCase.Text(wrong));
                found += findings.Count;
            }
        }, 5_000);
        log.WriteLine($"{found} findings");
        Assert.True(!Cases.Whole || found > 20);
    }

    [Fact]
    public void Frames_that_are_dropped_are_missing_and_nothing_else()
    {
        var tried = 0;
        Each(7_000, (audited, entries, frame) =>
        {
            var own = entries.Where(e => Is(audited, frame, e)).ToList();
            var dropped = own.Skip(own.Count / 2).Take(3).ToHashSet();
            Only(audited, [.. entries.Where(e => !dropped.Contains(e))], frame, FindingKind.Missing);
            tried++;
        });
        Tried(tried);
    }

    [Fact]
    public void A_second_sender_is_found_and_nothing_else()
    {
        var tried = 0;
        Each(8_000, (audited, entries, frame) =>
        {
            var period = frame.Frame.PeriodUs;
            var other = entries.Where(e => Is(audited, frame, e)).Select(e => e with { TimeUs = e.TimeUs + (period / 3) });
            Only(audited, [.. entries.Concat(other).OrderBy(e => e.TimeUs)], frame, FindingKind.TwoSenders);
            tried++;
        });
        Tried(tried);
    }

    [Fact]
    public void A_frame_of_another_period_is_found_and_nothing_else()
    {
        var tried = 0;
        Each(9_000, (audited, entries, frame) =>
        {
            var start = entries.First(e => Is(audited, frame, e)).TimeUs;
            var slower = entries.Select(e => Is(audited, frame, e) ? e with { TimeUs = start + ((e.TimeUs - start) * 5 / 4) } : e).OrderBy(e => e.TimeUs);
            var end = entries[^1].TimeUs;
            Only(audited, [.. slower.Where(e => e.TimeUs <= end)], frame, FindingKind.Period);
            tried++;
        });
        Tried(tried);
    }

    [Fact]
    public void A_wrong_bit_is_found_in_its_frame()
    {
        var tried = 0;
        Each(10_000, (audited, entries, frame) =>
        {
            if (frame.Frame.Length is 0 || frame.Frame.AllFields.Any(f => f.Source is null) || frame.Frame.Fields.Count is 0)
                return;
            var number = 0;
            var changed = entries.Select(e => Is(audited, frame, e) && number++ is >= 10 and < 14 ? e with { Data = [(byte)(e.Data[0] ^ 0x81), .. e.Data[1..]] } : e).ToList();
            var findings = AuditCase.Findings(audited.Audit(changed));
            Assert.True(findings.TrueForAll(f => f.Frame == frame.Frame.Name || f.Kind is FindingKind.Mode), AuditCase.Text(findings));
            tried += findings.Count > 0 ? 1 : 0;
        });
        Tried(tried);
    }

    private void Tried(int tried)
    {
        log.WriteLine($"{tried} tried");
        Assert.True(!Cases.Whole || tried >= Enough, $"only {tried} boards were fit for it");
    }

    private static void Only(AuditCase audited, List<LogEntry> entries, PlannedFrame frame, FindingKind kind)
    {
        var findings = AuditCase.Findings(audited.Audit(entries));
        Assert.True(findings.Count is 1 && findings[0].Kind == kind && findings[0].Frame == frame.Frame.Name, $"wanted {kind} {frame.Frame.Name}, got\n{AuditCase.Text(findings)}");
    }

    private static bool Is(AuditCase audited, PlannedFrame frame, LogEntry entry) => entry.Id == frame.Frame.Id && entry.Bus == audited.Buses[frame.Bus];

    // Boards with a frame that is sent by its period alone in every mode, on a bus with room.
    private void Each(int first, Action<AuditCase, List<LogEntry>, PlannedFrame> check) => Cases.Run(log, new DescriptionGen(), 3 * Count, project =>
    {
        var loaded = project.Load();
        var audited = new AuditCase(loaded);
        var (plan, result) = (audited.Plan, audited.Quiet(loaded.Stimuli[0]));
        var entries = audited.Log(result);
        if (plan.Frames.FirstOrDefault(f => IsFit(audited, f, entries)) is { } frame && Load(plan, frame, result) < MostLoad)
            check(audited, entries, frame);
    }, first);

    private static bool IsFit(AuditCase audited, PlannedFrame frame, List<LogEntry> entries) =>
        frame.Frame is { Events: null, Burst: null, PeriodByMode.Count: 0, PeriodUs: >= Fast, Pages.Count: 0 }
        && frame.Owner.Module.Modes.All(m => frame.Frame.Modes.Contains(m.Index))
        && !frame.Owner.Module.Frames.Any(f => f != frame.Frame && f.AllFields.Any(o => o.Source is Model.CounterValue c && frame.Frame.Fields.Any(p => p.Source is Model.CounterValue d && c.Counter == d.Counter)))
        && entries.Count(e => Is(audited, frame, e)) >= Enough;

    private static double Load(BoardPlan plan, PlannedFrame frame, SimulationResult result) =>
        result.Frames.Where(f => f.EndUs >= 0 && f.Bus == plan.Buses[frame.Bus].Name).Sum(f => (double)(f.EndUs - f.StartUs)) / result.EndUs;
}
