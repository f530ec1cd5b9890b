using Locum.Auditing;
using Locum.Inference;
using Locum.Tests.Unit.Capture;
using Xunit;

namespace Locum.Tests.Unit.Auditing;

/// <summary>A board's capture against one of the real module.</summary>
public sealed class OriginalTests
{
    private const string Module = "buses: {b: {rate: 500 kbit/s}}\nframes:\n  F:\n    id: 0x100\n    length: 4\n    every: 10 ms\n    fields:\n      alive: {bit: 0, bits: 4, counter: {}}\n      level: {bit: 8, bits: 8}\n";
    private const string Stimulus = "for: 5 s\ntraffic: {b: [{id: 0x050, every: 20 ms, data: 00}]}\n";

    [Fact]
    public void The_same_drive_is_clean() => Drive.Same([], Drive.Of(Module, Stimulus).AuditWith(Drive.Of(Module, Stimulus)));

    [Fact]
    public void A_value_that_lived_in_the_original_and_stands_still_is_told()
    {
        var original = Drive.Of(Module, Stimulus);
        var number = 0;
        original.Change(e => e.Id.Value is 0x100 ? e with { Data = [e.Data[0], (byte)(number++ / 7), e.Data[2], e.Data[3]] } : e);
        var result = Drive.Of(Module, Stimulus).AuditWith(original);
        Drive.Same(["Frozen F"], result);
        Assert.Contains("level stands still; it lived in the original", result.Findings[0].Message, StringComparison.Ordinal);
        Assert.Equal(Confidence.Certain, result.Findings[0].Confidence);
    }

    // One change in five seconds could have been missed by chance.
    [Fact]
    public void A_value_that_hardly_moved_is_not()
    {
        var original = Drive.Of(Module, Stimulus);
        original.Change(e => e.Id.Value is 0x100 && e.TimeUs > 4_000_000 ? e with { Data = [e.Data[0], 1, e.Data[2], e.Data[3]] } : e);
        Drive.Same([], Drive.Of(Module, Stimulus).AuditWith(original));
    }

    [Fact]
    public void Another_constant_is_only_possible()
    {
        var original = Drive.Of(Module, Stimulus);
        original.Change(e => e.Id.Value is 0x100 ? e with { Data = [e.Data[0], 9, e.Data[2], e.Data[3]] } : e);
        var result = Drive.Of(Module, Stimulus).AuditWith(original);
        Drive.Same(["Original F"], result);
        Assert.Equal(Confidence.Possible, result.Findings[0].Confidence);
    }

    [Fact]
    public void Another_period_of_the_original_is_told_although_the_board_keeps_to_its_description()
    {
        var result = Drive.Of(Module, Stimulus).AuditWith(Drive.Of(Module.Replace("10 ms", "12 ms", StringComparison.Ordinal), Stimulus));
        Drive.Same(["Period F"], result);
        Assert.Contains("the original every 12 ms", result.Findings[0].Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_later_first_frame_is_told_where_both_captures_show_the_wake_up()
    {
        const string late = "for: 5 s\ntraffic: {b: [{id: 0x050, every: 20 ms, data: 00}]}\n";
        var board = Drive.Of(Module, late);
        var original = Drive.Of(Module, late);
        board.Drop(0x100, (e, _) => e.TimeUs < 600_000);
        original.Drop(0x100, (e, _) => e.TimeUs < 100_000);
        var result = board.AuditWith(original);
        Drive.Same(["LateStart F"], result);
        Assert.Contains("first frame 600 ms after the bus woke up, of the original after 100 ms", result.Findings[0].Message, StringComparison.Ordinal);
    }

    [Fact]
    public void What_the_original_does_not_have_is_not_judged()
    {
        var original = Drive.Of(Module, Stimulus);
        original.Drop(0x100, (_, _) => true);
        var result = Drive.Of(Module, Stimulus).AuditWith(original);
        Drive.Same([], result);
        Assert.Contains(result.NotJudged, n => n.Contains("not in that capture", StringComparison.Ordinal));
    }
}
