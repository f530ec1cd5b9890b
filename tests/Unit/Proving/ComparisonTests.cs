using Locum.Proving;
using Locum.Simulation;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Proving;

public sealed class ComparisonTests
{
    [Fact]
    public void Equal_outputs_have_no_difference() => Assert.Null(Sample.Compare(Sample.Equal));

    [Fact]
    public void A_changed_payload_is_reported_with_both_frames_field_and_byte()
    {
        // Counter 1 in bits 4 to 11: bytes 10 C0. With bit 5 as well it is 3: bytes 30 C0.
        var text = Sample.Compare(Sample.With(1, f => f with { Data = [0x30, 0xC0] }));
        Assert.NotNull(text);
        Assert.StartsWith("frame 2:\n  both       0 us  b 0x123 A [00 C0] ", text, StringComparison.Ordinal);
        Assert.Contains("  simulator  1000 us  b 0x123 A [10 C0] 1000..", text, StringComparison.Ordinal);
        Assert.Contains("  program    1000 us  b 0x123 A [30 C0] 1000..", text, StringComparison.Ordinal);
        Assert.Contains("  field n: 0x1 against 0x3\n", text, StringComparison.Ordinal);
        Assert.Contains("  byte 0: 10 against 30\n", text, StringComparison.Ordinal);
        Assert.DoesNotContain("byte 1", text, StringComparison.Ordinal);
        Assert.DoesNotContain("field top", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_single_bit_of_every_payload_matters()
    {
        for (var frame = 0; frame < Sample.Equal.Frames.Count; frame++)
            for (var bit = 0; bit < 16; bit++)
            {
                var text = Sample.Compare(Sample.With(frame, f =>
                {
                    var data = (byte[])f.Data.Clone();
                    data[bit / 8] ^= (byte)(1 << (bit % 8));
                    return f with { Data = data };
                }));
                Assert.StartsWith($"frame {frame + 1}:", text, StringComparison.Ordinal);
            }
    }

    [Fact]
    public void A_microsecond_matters_in_every_time()
    {
        Assert.Contains("  accepted: +1 us\n", Sample.Compare(Sample.With(2, f => f with { AcceptedUs = f.AcceptedUs + 1 })), StringComparison.Ordinal);
        Assert.Contains("  start: -1 us\n", Sample.Compare(Sample.With(2, f => f with { StartUs = f.StartUs - 1 })), StringComparison.Ordinal);
        Assert.Contains("  end: +0.5 us\n", Sample.Compare(Sample.With(2, f => f with { EndUs = f.EndUs + 0.5 })), StringComparison.Ordinal);
    }

    [Fact]
    public void The_first_of_several_differences_is_reported()
    {
        var both = Sample.Equal with { Frames = [.. Sample.Equal.Frames.Select((f, i) => i is 1 or 3 ? f with { EndUs = 0 } : f)] };
        Assert.StartsWith("frame 2:", Sample.Compare(both), StringComparison.Ordinal);
    }

    [Fact]
    public void Another_bus_identifier_format_or_length_is_reported()
    {
        Assert.Contains("another frame, or another order", Sample.Compare(Sample.With(0, f => f with { Bus = "x" })), StringComparison.Ordinal);
        Assert.Contains("unknown", Sample.Compare(Sample.With(0, f => f with { Id = new CanId(0x124, false) })), StringComparison.Ordinal);
        Assert.Contains("another frame, or another order", Sample.Compare(Sample.With(0, f => f with { Id = new CanId(0x123, true) })), StringComparison.Ordinal);
        Assert.Contains("length: 2 against 1 bytes", Sample.Compare(Sample.With(0, f => f with { Data = [0] })), StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_and_an_additional_frame_are_reported_after_what_came_before()
    {
        var frames = Sample.Equal.Frames;
        var fewer = Sample.Compare(Sample.Equal with { Frames = [.. frames.SkipLast(1)] });
        Assert.StartsWith($"frame {frames.Count}:\n  both ", fewer, StringComparison.Ordinal);
        Assert.EndsWith("  program    (no frame)\n", fewer, StringComparison.Ordinal);
        var more = Sample.Compare(Sample.Equal with { Frames = [.. frames, frames[0]] });
        Assert.Contains("  simulator  (no frame)\n  program    0 us", more, StringComparison.Ordinal);
        Assert.StartsWith("frame 1:\n  simulator  0 us", Sample.Compare(Sample.Equal with { Frames = [] }), StringComparison.Ordinal);
    }

    [Fact]
    public void A_frame_that_never_left_is_shown_as_such() =>
        Assert.Contains("not sent", Sample.Compare(Sample.With(Sample.Equal.Frames.Count - 1, f => f with { StartUs = -1, EndUs = -1 })), StringComparison.Ordinal);

    [Fact]
    public void Mode_changes_are_compared_one_by_one()
    {
        Assert.Equal("mode change 1:\n  simulator  2500 us  m enters late\n  program    (none)\n", Sample.Compare(Sample.Equal with { Modes = [] }));
        Assert.Equal("mode change 1:\n  simulator  2500 us  m enters late\n  program    2501 us  m enters late\n", Sample.Compare(Sample.Equal with { Modes = [new ModeChange(2501, 0, 0, 1)] }));
        Assert.Equal("mode change 2:\n  simulator  (none)\n  program    2600 us  m enters early\n", Sample.Compare(Sample.Equal with { Modes = [.. Sample.Equal.Modes, new ModeChange(2600, 0, 0, 0)] }));
    }

    [Fact]
    public void Skipped_releases_are_compared()
    {
        // Stalled from 3500 to 5500: of 4000 and 5000 one is skipped.
        Assert.Equal("skipped releases of m.A:\n  simulator  1\n  program    0\n", Sample.Compare(Sample.Equal with { Skipped = [0] }));
        Assert.Equal("skipped releases of m.A:\n  simulator  1\n  program    none printed\n", Sample.Compare(Sample.Equal with { Skipped = [] }));
        Assert.NotNull(Sample.Compare(Sample.Equal with { Skipped = [1, 0] }));
    }
}
