using Locum.Tests.Unit.Simulation;
using Xunit;

namespace Locum.Tests.Regression.StalledLap;

/// <summary>The end of a lap of a long stay passed for a missed instant, so a way out was tried too early when the board stalled at power-on.</summary>
public sealed class StalledLapTests
{
    // A stay of 2^30 + 1 us: its first lap, of 1 us, ends while the board stalls. The way out of a is open at the first step, at 1000;
    // b lasts until 1100.
    [Fact]
    public void A_way_out_is_tried_at_the_first_step_and_not_at_the_end_of_a_lap() =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            inputs: {x: {active: high}}
            modes:
              a: {for: 1073741825 us, then: d, until: {x: inactive, then: b}}
              b: {for: 100 us, then: c}
              c: {}
              d: {}
            frames: {A: {id: 0, length: 0, every: 20 ms, offset: 50 ms}}
            """, "for: 5 ms\nstalls: [{from: 0 us, until: 1 ms}]") { Modes = "1000 b\n1100 c" }.Holds();
}
