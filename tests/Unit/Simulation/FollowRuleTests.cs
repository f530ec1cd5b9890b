using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rule 21: fields that follow, of the payload 11 22 33 44 55 66 77 88.</summary>
public sealed class FollowRuleTests
{
    private const string First = "bit: 0, bits: 8"; // 0x11 = 17
    private const string Last = "bit: 56, bits: 8, signed: yes"; // 0x88 = -120
    private const string Big = "bit: 8, bits: 12, order: big"; // 0x122 = 290

    [Theory]
    [InlineData(First, "", "", "11")]
    [InlineData(First, "", "gain: 0.5", "09")] // 8.5, half away from zero
    [InlineData(First, "signed: yes", "gain: -0.5", "F7")] // -8.5 gives -9
    [InlineData(First, "signed: yes", "gain: -0.1, add: 0.2", "FE")] // -1.5 gives -2
    [InlineData(First, "signed: yes", "gain: 0.1, add: -2.2", "FF")] // -0.5 gives -1
    [InlineData(First, "signed: yes", "gain: -0.1, add: 1.3", "00")] // -0.4
    [InlineData(First, "", "gain: 0.5, at most: 8", "08")]
    [InlineData(First, "signed: yes", "gain: -0.5, at least: -8", "F8")]
    [InlineData(First, "", "gain: 16", "FF")] // 272 is kept within the field
    [InlineData(First, "", "gain: -1", "00")]
    [InlineData(First, "signed: yes", "gain: -16", "80")]
    [InlineData(First, "scale: 0.5", "", "22")]
    [InlineData(First, "scale: 0.5, offset: -40", "", "72")] // (17 + 40) / 0.5 = 114
    [InlineData(Last, "signed: yes", "", "88")]
    [InlineData(Last, "signed: yes", "gain: 0.0125", "FE")] // -1.5 gives -2
    [InlineData(Last, "", "add: 121", "01")]
    [InlineData(Big, "", "gain: 0.1", "1D")] // 29
    [InlineData(Big + ", scale: 0.1, offset: -4", "", "", "19")] // 29 - 4
    public void Rule_21_the_value_is_rounded_half_away_from_zero_and_kept_within_limits(string received, string own, string follow, string data) =>
        new Scenario("buses: {b: {rate: 1 Mbit/s}}\nreceives: {R: {id: 0x123, fields: {f: {" + received + "}}}}\n"
            + "frames: {A: {id: 0x200, length: 1, every: 5 ms, offset: 500 us, fields: {v: {bit: 0, bits: 8, " + Before(own) + "follow: {from: R.f" + Behind(follow) + "}, lost: 5}}}}",
            "for: 6 ms\ntraffic: {b: [{id: 0x123, every: 100 ms, offset: 1 ms, data: 11 22 33 44 55 66 77 88}]}")
        {
            Frames = $"500 0x200 {Lost(own)}\n5500 0x200 {data}",
        }.Holds();

    private static string Before(string keys) => keys.Length is 0 ? "" : keys + ", ";

    private static string Behind(string keys) => keys.Length is 0 ? "" : ", " + keys;

    // 5 is raw 5, with the scale 0.5 raw 10, with an offset of -40 raw 90.
    private static string Lost(string own) => own.Contains("-40", StringComparison.Ordinal) ? "5A" : own.StartsWith("scale", StringComparison.Ordinal) ? "0A" : "05";
}
