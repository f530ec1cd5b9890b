using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Rule 28: values that move with the releases of their frame, 1 ms apart.</summary>
public sealed class MovingRuleTests
{
    // Quarters of 10: 2.5, 5, 7.5, half away from zero.
    [Theory]
    [InlineData("ramp: {from: 10, to: 20, over: 4 ms}", "0A 0D 0F 12 14 14 14")]
    [InlineData("ramp: {from: 20, to: 10, over: 4 ms}", "14 11 0F 0C 0A 0A 0A")]
    [InlineData("ramp: {from: 10, to: 20, over: 4 ms, then: repeat}", "0A 0D 0F 12 0A 0D 0F")]
    [InlineData("ramp: {from: 10, to: 20, over: 4 ms, then: back}", "0A 0D 0F 12 14 12 0F 0D 0A 0D")]
    [InlineData("ramp: {from: 10, to: 20, over: 1 ms, then: back}", "0A 14 0A 14")]
    [InlineData("signed: yes, ramp: {from: -5, to: 5, over: 4 ms}", "FB FE 00 03 05 05")]
    public void Rule_28_a_ramp_moves_evenly(string field, string values) =>
        new Scenario(Moving(field), $"for: {values.Split(' ').Length - 1} ms") { Frames = Values(values) }.Holds();

    // Sends in a: until 1500, and again from 2500 on.
    [Fact]
    public void Rule_28_a_ramp_begins_anew_with_its_frame() =>
        new Scenario("modes: {a: {for: 1500 us, then: c}, c: {for: 1 ms, then: a}}\n" + Moving("ramp: {from: 10, to: 20, over: 4 ms}", "in: a, "), "for: 3600 us")
        { Modes = "1500 c\n2500 a", Frames = "0 0x000 0A\n1000 0x000 0D\n2500 0x000 0A\n3500 0x000 0D" }.Holds();

    [Fact]
    public void Rule_28_skipped_releases_do_not_move_a_value() =>
        new Scenario(Moving("ramp: {from: 10, to: 20, over: 4 ms}"), "for: 4 ms\nstalls: [{from: 500 us, until: 3500 us}]")
        { Frames = "0 0x000 0A\n3500 0x000 0D\n4000 0x000 0F", Skipped = "A 2" }.Holds();

    // From 1 the generator gives 270369, 67634689, 2647435461, 307599695 (Marsaglia, Xorshift RNGs, 2003: shifts 13, 17, 5;
    // from 1: 1 ^ 1 << 13 = 0x2001, nothing, 0x2001 ^ 0x2001 << 5 = 0x42021 = 270369). Modulo 101: 93, 39, 29, 54, from 50 on.
    [Fact]
    public void Rule_28_noise_is_the_same_in_every_run() =>
        new Scenario(Moving("noise: {around: 100, span: 50, seed: 1}"), "for: 3 ms") { Frames = Values("8F 59 4F 68") }.Holds();

    // Sends in a: until 1500, and again from 2500 on. The generator goes on.
    [Fact]
    public void Rule_28_noise_goes_on_when_its_frame_starts_again() =>
        new Scenario("modes: {a: {for: 1500 us, then: c}, c: {for: 1 ms, then: a}}\n" + Moving("noise: {around: 100, span: 50, seed: 1}", "in: a, "), "for: 3600 us")
        { Modes = "1500 c\n2500 a", Frames = "0 0x000 8F\n1000 0x000 59\n2500 0x000 4F\n3500 0x000 68" }.Holds();

    // Heard at about 1600: at 2000 the value is 0x11 = 17.
    [Theory]
    [InlineData("delay: 2 ms", 0xF0, "F0 F0 F0 F0 11 11")]
    [InlineData("delay: 1 ms", 0xF0, "F0 F0 F0 11 11 11")]
    [InlineData("slew: 3000", 10, "0A 0A 0D 10 11 11")]
    [InlineData("slew: 3000", 30, "1E 1E 1B 18 15 12 11")]
    [InlineData("delay: 1 ms, slew: 4000", 10, "0A 0A 0A 0E 11 11")]
    public void Rule_28_followers_are_late_and_slow(string lag, int lost, string values) =>
        new Scenario("receives: {R: {id: 0x123, fields: {f: {bit: 0, bits: 8}}}}\n" + Moving($"follow: {{from: R.f, {lag}}}, lost: {lost}"),
            $"for: {values.Split(' ').Length - 1} ms\ntraffic: {{b: [{{id: 0x123, every: 100 ms, offset: 1500 us, data: 11 22 33 44 55 66 77 88}}]}}")
        { Frames = Values(values) }.Holds();

    private static string Moving(string field, string keys = "") =>
        $"buses: {{b: {{rate: 1 Mbit/s}}}}\nframes: {{A: {{id: 0, length: 1, every: 1 ms, {keys}fields: {{v: {{bit: 0, bits: 8, {field}}}}}}}}}\n";

    private static string Values(string values) => string.Join('\n', values.Split(' ').Select((v, i) => $"{i * 1000} 0x000 {v}"));
}
