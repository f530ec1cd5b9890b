using Locum.Auditing;
using Locum.Capture;
using Locum.Tests.Unit.Capture;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Auditing;

/// <summary>One fault in the log or the firmware of a demo board is found as that fault and as nothing else.</summary>
public sealed class FaultTests
{
    private const uint HeatStatus = 0x2D1;
    private const uint HeatPower = 0x2D3;
    private const uint HeatIdentity = 0x5E0;
    private const uint DoorAnswer = 0x642;
    private const uint Doors = 0x641;
    private const long Second = 1_000_000;

    public static TheoryData<string> Boards => ["cab", "floor", "bogie", "roof", "side", "rear"];

    [Theory]
    [MemberData(nameof(Boards))]
    public void The_simulators_own_output_is_clean(string board)
    {
        var result = Drive.Of(board).Finds();
        Assert.True(result.Judged > 100);
    }

    [Fact]
    public void Dropped_frames_are_missing_and_their_counter_is_no_fault_of_its_own()
    {
        var drive = Drive.Of("cab");
        drive.Drop(HeatStatus, (_, i) => i is >= 40 and < 43);
        var finding = Assert.Single(drive.Finds("Missing HeatStatus").Findings);
        Assert.Equal((3, null), (finding.Count, finding.ComplainsUs));
        Assert.EndsWith("cab-heat.yaml", finding.Span.File, StringComparison.Ordinal);
        Assert.Equal(25, finding.Span.Line);
    }

    [Fact]
    public void A_receiver_complains_when_five_periods_are_missing()
    {
        var drive = Drive.Of("cab");
        drive.Drop(HeatStatus, (_, i) => i is >= 40 and < 50);
        var finding = Assert.Single(drive.Finds("Missing HeatStatus").Findings);
        Assert.Equal((10, 5 * 20_000L), (finding.Count, finding.ComplainsUs));
    }

    [Fact]
    public void A_frame_that_never_comes_is_told_by_the_others_of_its_module()
    {
        var drive = Drive.Of("cab");
        drive.Drop(HeatPower, (_, _) => true);
        drive.Finds("NeverSent HeatPower");
    }

    [Fact]
    public void A_module_that_never_comes_is_one_finding()
    {
        var drive = Drive.Of("cab");
        foreach (var id in new[] { HeatStatus, HeatPower, HeatIdentity })
            drive.Drop(id, (_, _) => true);
        // Five times the period of its fastest frame.
        Assert.Equal(5 * 20 * 1_000, Assert.Single(drive.Finds("NeverSent").Findings).ComplainsUs);
    }

    [Fact]
    public void Another_period_is_told_with_its_mean()
    {
        var finding = Assert.Single(Drive.Of("cab", ("every: 20 ms", "every: 25 ms")).Finds("Period HeatStatus").Findings);
        Assert.Contains("every 25 ms, described is 20 ms", finding.Message, StringComparison.Ordinal);
        Assert.Contains("every 18 ms", Assert.Single(Drive.Of("cab", ("every: 20 ms", "every: 18 ms")).Finds("Period HeatStatus").Findings).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_frame_that_starts_late_is_told_by_the_others_of_its_module()
    {
        var drive = Drive.Of("cab");
        drive.Drop(HeatStatus, (_, i) => i < 5);
        var finding = Assert.Single(drive.Finds("LateStart HeatStatus").Findings);
        // Five periods, less what the frames leave open.
        Assert.Contains("comes 90.3 ms at least after it was due", finding.Message, StringComparison.Ordinal);
        drive = Drive.Of("cab");
        drive.Drop(HeatPower, (_, i) => i < 6);
        drive.Finds("LateStart HeatPower");
    }

    [Fact]
    public void A_frame_that_stops_before_its_modes_end_is_told()
    {
        var drive = Drive.Of("cab");
        var last = drive.All(HeatStatus)[^1].TimeUs;
        drive.Drop(HeatStatus, (e, _) => e.TimeUs > last - Second);
        drive.Finds("EarlyEnd HeatStatus");
    }

    [Fact]
    public void A_counter_that_stands_still_is_told()
    {
        var finding = Assert.Single(Drive.Of("cab", ("counter: {from: 0, to: 14, restart: entry}", "value: 3")).Finds("Counter HeatStatus").Findings);
        Assert.Contains("alive stands still", finding.Message, StringComparison.Ordinal);
        // None of the newest 10 is good.
        Assert.InRange(finding.ComplainsUs!.Value, 8 * 20_000, 10 * 20_000);
        Assert.Contains("alive moves wrongly", Assert.Single(Drive.Of("cab", ("{from: 0, to: 14, restart: entry}", "{from: 0, to: 13, restart: entry}")).Finds("Counter HeatStatus").Findings).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_wrong_checksum_is_told_with_the_right_one()
    {
        var drive = Drive.Of("cab");
        var number = 0;
        drive.Change(e => e.Id.Value == HeatStatus && number++ is >= 50 and < 54 ? e with { Data = [.. e.Data[..7], (byte)(e.Data[7] ^ 0x10)] } : e);
        var finding = Assert.Single(drive.Finds("Checksum HeatStatus").Findings);
        // More than 3 of the newest 10.
        Assert.Equal((4, 60_000), (finding.Count, (finding.ComplainsUs!.Value + 500) / 1000 * 1000));
        drive = Drive.Of("cab", ("with: [0xA5]", "with: [0xA4]"));
        Assert.Contains("in all", Assert.Single(drive.Finds("Checksum HeatPower").Findings).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_second_sender_is_told_by_phase_and_counter()
    {
        var drive = Drive.Of("cab");
        drive.Add([.. drive.All(HeatStatus).Where(e => e.TimeUs is > Second and < 3 * Second).Select((e, i) => e with { TimeUs = e.TimeUs + 6_700 })]);
        var finding = Assert.Single(drive.Finds("TwoSenders HeatStatus").Findings);
        Assert.Contains("6.7 ms apart", finding.Message, StringComparison.Ordinal);
        Assert.NotNull(finding.ComplainsUs);
    }

    [Fact]
    public void A_second_sender_of_a_frame_sent_on_change_is_told_by_its_counter()
    {
        var drive = Drive.Of("side");
        var other = drive.All(0x2A1);
        drive.Add([.. other.Select((e, i) => e with { TimeUs = e.TimeUs + 7_000, Data = other[Math.Max(0, i - 5)].Data })]);
        drive.Finds("TwoSenders FlapStatus");
    }

    [Fact]
    public void Answers_that_miss_or_are_late_are_told()
    {
        var drive = Drive.Of("rear");
        drive.Drop(DoorAnswer, (_, i) => i is 3);
        drive.Finds("AnswerMissing DoorAnswer");
        Drive.Of("rear", ("{receive: DoorRequest, after: 3 ms}", "{receive: DoorRequest, after: 40 ms}")).Finds("AnswerLate DoorAnswer");
    }

    [Fact]
    public void Jitter_is_told_once_and_keeps_the_phase()
    {
        var random = new Random(7);
        var drive = Drive.Of("cab");
        drive.Change(e => e.Id.Value == HeatStatus && e.TimeUs is > Second and < 2 * Second ? e with { TimeUs = e.TimeUs + random.Next(0, 7_000) } : e);
        drive.Finds("Jitter HeatStatus");
    }

    [Fact]
    public void Errors_right_before_a_frame_are_counted_there()
    {
        var drive = Drive.Of("cab");
        var frames = drive.All(HeatStatus);
        // Start of the frame (130 bits at 500 kbit/s at most) less the intermission.
        drive.Add([.. Enumerable.Range(20, 6).Select(i => new LogEntry(frames[i].TimeUs - 270, "body", default, [], FrameTraits.Error))]);
        var finding = Assert.Single(drive.Finds("BusErrors HeatStatus").Findings);
        Assert.Equal(6, finding.Count);
    }

    [Fact]
    public void A_mode_that_lasts_too_long_or_too_short_is_told()
    {
        Drive.Of("cab", ("for: 120 ms", "for: 300 ms")).Finds("Mode");
        Drive.Of("cab", ("for: 5 s", "for: 7 s")).Finds("Mode");
    }

    [Fact]
    public void Wrong_values_are_told_field_by_field()
    {
        Assert.Contains("target is 24 degC in all", Assert.Single(Drive.Of("cab", ("value: 21.0", "value: 24")).Finds("Value HeatStatus").Findings).Message, StringComparison.Ordinal);
        Assert.Contains("bits outside the fields differ", Assert.Single(Drive.Of("cab", ("48 45 41 54", "48 45 41 55")).Finds("Value HeatIdentity").Findings).Message, StringComparison.Ordinal);
        Assert.Contains("current is 9", Assert.Single(Drive.Of("cab", ("running: 12.4", "running: 9")).Finds("Value HeatPower").Findings).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_follower_that_does_not_follow_is_told()
    {
        var found = Drive.Of("bogie", ("follow: {from: DriveSpeed.speed, at most: 163.82}\n        lost: 163.83\n      right", "value: 1\n      right"));
        Assert.Contains("left does not follow", Assert.Single(found.Finds("Value SlipStatus").Findings).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Noise_that_stands_still_is_told()
    {
        var found = Drive.Of("buses: {b: {rate: 500 kbit/s}}\nframes:\n  F: {id: 0x100, length: 1, every: 10 ms, fields: {n: {bit: 0, bits: 8, noise: {around: 100, span: 3, seed: 5}}}}\n", "for: 2 s\n", ("noise: {around: 100, span: 3, seed: 5}", "value: 101"));
        found.Finds("Frozen F");
    }

    [Fact]
    public void Payloads_out_of_turn_are_told()
    {
        var drive = Drive.Of("rear");
        var pages = drive.All(Doors);
        var (a, b) = (pages[20], pages[21]);
        drive.Change(e => e == a ? e with { Data = b.Data } : e == b ? e with { Data = a.Data } : e);
        var kinds = drive.Audit().Findings.Select(f => f.Kind).ToHashSet();
        Assert.Superset(new HashSet<FindingKind> { FindingKind.Turn }, kinds);
        Assert.Subset(new HashSet<FindingKind> { FindingKind.Turn, FindingKind.Counter }, kinds);
    }

    [Fact]
    public void Another_length_is_told()
    {
        var drive = Drive.Of("cab");
        drive.Change(e => e.Id.Value == HeatIdentity ? e with { Data = e.Data[..6] } : e);
        drive.Finds("Shape HeatIdentity");
    }

    [Fact]
    public void Protected_frames_are_judged_by_the_receivers_state_machine()
    {
        var drive = Drive.Of("bogie", ("data id: 0x1A3B", "data id: 0x1A3C"));
        var finding = Assert.Single(drive.Finds("Checksum SlipStatus").Findings);
        Assert.NotNull(finding.ComplainsUs);
    }

    [Fact]
    public void The_worst_comes_first()
    {
        var drive = Drive.Of("cab", ("value: 21.0", "value: 24"), ("with: [0xA5]", "with: [0xA4]"));
        drive.Drop(HeatStatus, (_, i) => i is >= 40 and < 60);
        Assert.Equal([FindingKind.Missing, FindingKind.Checksum, FindingKind.Value], drive.Audit().Findings.Select(f => f.Kind));
    }

    [Fact]
    public void Identifiers_find_the_bus_when_its_name_does_not()
    {
        var drive = Drive.Of("floor");
        drive.Change(e => e with { Bus = e.Bus is "body" ? "can1" : "can0" });
        var entries = drive.Log;
        var result = Locum.Auditing.Audit.Of([Locum.Pipeline.Loader.Load(RepoRoot.Path("projects", "depot-loco", "lift-pump.yaml")).Plans[0]], Recordings.Of(entries, ["can0", "can1"]), null);
        Assert.Empty(result.Findings);
        Assert.Equal([("body", "can1", BusPairing.Identifiers), ("load", "can0", BusPairing.Identifiers)], result.Buses.Select(b => (b.Name, b.CaptureName!, b.How)));
    }

    [Theory]
    [InlineData(10)]
    [InlineData(100)]
    [InlineData(1_000)]
    [InlineData(10_000)]
    public void A_coarse_logger_makes_no_findings(long stepUs)
    {
        foreach (var board in new[] { "cab", "side", "rear" })
        {
            var result = Drive.Of(board).Audit(stepUs);
            Drive.Same([], result);
            Assert.Equal(stepUs, result.Tolerance.StepUs);
        }
    }

    [Fact]
    public void A_jittery_logger_makes_no_findings_and_is_told_by_the_other_nodes()
    {
        var random = new Random(3);
        var drive = Drive.Of("cab");
        // A logger that takes its time holds up everything by up to 3 ms.
        drive.Change(e => e with { TimeUs = e.TimeUs + random.Next(0, 3_000) });
        var result = drive.Audit();
        Drive.Same([], result);
        Assert.True(result.Tolerance.StampUs > 500);
    }

    [Fact]
    public void Each_part_of_a_broken_capture_is_judged_for_itself()
    {
        var drive = Drive.Of("cab");
        var second = drive.Log.Select(e => e with { TimeUs = e.TimeUs + (3_600 * Second) }).ToList();
        drive.Add(second);
        drive.Finds();
    }
}
