using Locum.Inference;
using Locum.Pipeline;
using Locum.Planning;
using Locum.Simulation;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Drafting;

/// <summary>
/// The modules of the demo, simulated, drafted from what was on the buses, and simulated again. Each test says what comes
/// back and what cannot: a capture shows neither wires nor the reasons of other nodes.
/// </summary>
public sealed class DemoLoopTests
{
    private const long Millisecond = 1_000;
    private const long Second = 1_000_000;

    [Fact]
    public void Cab_heat_comes_back_until_the_run_line_goes_off()
    {
        var loop = Of("cab", "cab-heat");

        Assert.True(loop.Draft.Findings.Start.Seen);
        Assert.Contains("period 20 ms certain", loop.Facts("Id2D1"));
        Assert.Contains("counter bits 52..55: {from: 0, to: 14} certain", loop.Facts("Id2D1"));
        Assert.Contains(loop.Facts("Id2D1"), f => f.StartsWith("checksum", StringComparison.Ordinal) && f.Contains("crc8-sae-j1850, over: 0..6, with: [id low byte]", StringComparison.Ordinal));
        Assert.Contains("counter bits 32..35: {from: 0, to: 15} certain", loop.Facts("Id2D3"));
        // The time in the mode "waking", seen as a value that changes and as frames that begin later.
        Assert.Equal(["start-up", "running"], loop.Module.Modes.Select(m => m.Name));
        Assert.InRange(loop.Module.Modes[0].ForUs!.Value, 100 * Millisecond, 120 * Millisecond);
        long off = 3_020 * Millisecond;
        int frames = loop.AssertEqual(0x2D1, off, Millisecond) + loop.AssertEqual(0x2D3, off, Millisecond) + loop.AssertEqual(0x5E0, off, Millisecond);
        Assert.Equal(130 + 25 + 3, frames);
        // Nothing on the bus says why the state changes then.
        Assert.Contains(loop.Draft.Unexplained, u => u is { Subject: "Id2D1", Bits: "bits 0..2" });
    }

    [Fact]
    public void Lift_pump_comes_back_until_the_lift_ends_but_for_its_secret()
    {
        var loop = Of("floor", "lift-pump");

        Assert.Equal(2, loop.Module.Buses.Count);
        Assert.Contains("period 50 ms certain", loop.Facts("Id18F0A42B"));
        Assert.Contains(loop.Facts("Id18F0A42B"), f => f.Contains("sum-twos", StringComparison.Ordinal));
        // The two halves come in turn; two counters of their own in steps of two would look the same.
        var shared = Assert.Single(loop.Draft.Facts, f => f.What is "shared counter");
        Assert.Equal(Confidence.Possible, shared.Confidence);
        Assert.Contains(loop.Facts("Id3A1"), f => f.StartsWith("counter bits 18..21: {from: 0, to: 15}", StringComparison.Ordinal));
        long lifted = 10 * Second;
        Assert.Equal(195, loop.AssertEqual(0x18F0A42B, lifted, Millisecond));
        Assert.True(loop.AssertEqual(0x18F0A52B, 6 * Second, Millisecond) > 100);
        Assert.True(loop.AssertEqual(0x3A1, 6 * Second, Millisecond, [.. Enumerable.Range(24, 16)]) > 500);
    }

    [Fact]
    public void Wheel_slip_comes_back_with_what_it_follows_and_its_protection()
    {
        var loop = Of("bogie", "wheel-slip");

        Assert.Contains(loop.Facts("Id0A8"), f => f.StartsWith("protection protect: {profile: 1A", StringComparison.Ordinal) && f.EndsWith("certain", StringComparison.Ordinal));
        Assert.Contains("follows bits 16..31: 0x155 bits 8..19 · 5 likely", loop.Facts("Id0A8"));
        Assert.Equal(200 * Millisecond, Assert.Single(loop.Module.Receives).TimeoutUs);
        Assert.Contains(loop.Facts("Id1C2"), f => f.StartsWith("counter bits 16..23: {from: 255, to: 0, step: 5}", StringComparison.Ordinal));
        Assert.True(loop.AssertEqual(0x0A8, 5 * Second, Millisecond) > 490);
        Assert.True(loop.AssertEqual(0x1C2, 5 * Second, Millisecond, 28, 29, 30, 31) > 45);
    }

    [Fact]
    public void Charge_flap_comes_back_until_it_is_told_to_open()
    {
        var loop = Of("side", "charge-flap");

        Assert.Contains(loop.Facts("Id2A1"), f => f.StartsWith("period 500 ms", StringComparison.Ordinal));
        Assert.Contains("counter bits 32..35: {from: 0, to: 15} certain", loop.Facts("Id2A1"));
        Assert.Contains(loop.Facts("Id2A1"), f => f.Contains("crc8-autosar, over: 0..4, with: [id high byte, id low byte]", StringComparison.Ordinal));
        // Another period while it moves, and states that a command brings about: told, not described.
        Assert.Contains(loop.Draft.Unexplained, u => u.Subject is "Id2A1" && u.Why.StartsWith("also every 50", StringComparison.Ordinal));
        Assert.Equal(4, loop.AssertEqual(0x2A1, 2 * Second, Millisecond));
    }

    [Fact]
    public void Seat_occupancy_comes_back_but_for_its_noise()
    {
        var loop = Of("side", "seat-occupancy");

        Assert.Contains("counter bits 16..19: {from: 1, to: 15} certain", loop.Facts("Id3B4"));
        Assert.Contains(loop.Facts("Id3B4"), f => f.Contains("nibble-xor, over: 0..2, own bits: zero", StringComparison.Ordinal));
        Assert.Contains(loop.Facts("Id3B5"), f => f.StartsWith("fast beginning {first: 10, every: 20 ms}", StringComparison.Ordinal));
        Assert.Contains(loop.Draft.Unexplained, u => u.Subject is "Id3B4" && u.Bits is "bits 8..10");
        // What checks the noise differs with it.
        Assert.Equal(60, loop.AssertEqual(0x3B4, 12 * Second, Millisecond, 8, 9, 10, 20, 21, 22, 23));
        Assert.Equal(21, loop.AssertEqual(0x3B5, 12 * Second, Millisecond));
    }

    [Fact]
    public void Parcel_door_comes_back_with_its_pages_and_answers()
    {
        var loop = Of("rear", "parcel-door");

        Assert.Contains("payloads in turn 4 certain", loop.Facts("Id641"));
        Assert.Contains("counter bits 40..43: {from: 0, to: 14} certain", loop.Facts("Id641"));
        Assert.Contains(loop.Facts("Id641"), f => f.Contains("crc8-sae-j1850, over: 0..6", StringComparison.Ordinal));
        Assert.Contains("answer {receive: From640, after: 3 ms} possible", loop.Facts("Id642"));
        Assert.Contains(loop.Facts("Id52B"), f => f.StartsWith("fast beginning {first: 5, every: 20 ms}", StringComparison.Ordinal));
        // Too few speeds were seen to say what byte 6 follows; the latch differs on one page in one mode.
        Assert.Contains(loop.Draft.Unexplained, u => u.Subject is "Id641" && u.Bits is "bits 48..55");
        Assert.Contains(loop.Draft.Unexplained, u => u.Subject is "Id641" && u.Why.StartsWith("vary on payload 2 of 4", StringComparison.Ordinal));
        int[] open = [.. Enumerable.Range(16, 8), .. Enumerable.Range(48, 16)];
        Assert.True(loop.AssertEqual(0x641, 10 * Second, Millisecond, open) > 90);
        Assert.Equal(13, loop.AssertEqual(0x642, 20 * Second, Millisecond, 0, 1));
        Assert.Equal(8, loop.AssertEqual(0x52B, 2 * Second, Millisecond, 8));
    }

    [Fact]
    public void Telematics_comes_back_on_can_fd()
    {
        var loop = Of("roof", "telematics", 500_000);

        Assert.Contains(loop.Facts("Id3A1"), f => f.Contains("crc16-ibm-3740, over: 0..9", StringComparison.Ordinal));
        Assert.Equal([12, 64, 20, 16, 24], loop.Module.Frames.Select(f => f.Length));
        Assert.False(loop.Draft.Findings.Start.Seen);
        // It boots for 300 ms; the recording begins with its power-on, so that no start shows.
        int[] link = [0, 1, 8, 11, 12, 13, 59, 60, 61, 62, 63];
        int[] check = [.. Enumerable.Range(80, 16)];
        Assert.True(loop.AssertEqual(0x3A1, 2 * Second, 2 * Millisecond, [.. link, .. check]) > 30);
        Assert.True(loop.AssertEqual(0x3AF, 3 * Second, 2 * Millisecond) > 1);
    }

    // What the module sent by itself: guards belong to the board that stands in for it, and nobody asks it anything.
    private static Loop Of(string board, string module, int? rate = null)
    {
        var loaded = Loader.Load(RepoRoot.Path("projects", "depot-loco"));
        var plan = loaded.Plans.Single(p => p.Name == board) with { Guards = PlannedGuards.None };
        var stimulus = loaded.Stimuli[board] with { BusOffs = [] };
        stimulus = stimulus with { Traffic = [.. stimulus.Traffic.Where(t => !IsAsking(t.Id))] };
        var frames = Simulator.Run([plan], stimulus).Frames;
        var own = plan.Frames.Where(f => f.Frame.IsDescribed && f.Owner.Module.Name == module).Select(f => f.Sender).ToHashSet();
        return new Loop(frames, f => own.Contains(f.Sender), stimulus, rate);
    }

    // A tester's requests, and those of SAE J1939.
    private static bool IsAsking(CanId id) => id.Extended && (id.Value >> 16) is 0x18DA or 0x18DB or 0x18EA or 0x18EE or 0x1CEC;
}
