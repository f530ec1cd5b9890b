using Locum.Model;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>SPI controllers that lose their supply, do not answer, or whose answers are noise: the board goes on, and so do they when they can.</summary>
public sealed class ControllerTroubleTests(ITestOutputHelper log)
{
    private const string Avr = "avr-mcp2515";
    private const string Rp2040 = "rp2040-mcp2515";
    private const string Rp2040Fd = "rp2040-mcp2518fd";

    private const string Pair = """
        buses: {a: {rate: 500 kbit/s}, b: {rate: 250 kbit/s}}
        frames:
          A: {bus: a, id: 0x120, length: 2, every: 10 ms, offset: 3 ms, fields: {n: {bit: 0, bits: 8, counter: {}}}}
          B: {bus: b, id: 0x18FF1234, length: 2, every: 10 ms, offset: 7 ms, fields: {n: {bit: 0, bits: 8, counter: {}}}}
        """;

    // The controller of the first bus forgets its settings; the other goes on.
    [Theory]
    [InlineData(Avr, "port/port.c", "now_us - looked_us >= LOOK_AFTER_US", "now_us < looked_us")]
    [InlineData(Rp2040, "port/can.c", "now_us - looked_us >= LOOK_AFTER_US", "now_us < looked_us")]
    [InlineData(Rp2040Fd, "port/can.c", "now_us - looked_us < LOOK_AFTER_US", "now_us >= looked_us")]
    public void One_that_lost_its_supply_gets_its_settings_again(string kind, string file, string care, string never)
    {
        var (plan, stimulus) = GuardedBoard.Of(kind).Load(Pair, "{}", "for: 6 s");
        using var board = new EmulatedBoard(plan);
        Held(board.Run(stimulus), board.Run(stimulus, "--lost-supply", "0@2003000"), 2_003_000, 2_003_000 + CareUs(kind));
        // Without the care it stays silent.
        using var careless = EmulatedBoard.Mutated(plan, file, care, never);
        Assert.DoesNotContain(careless.Run(stimulus, "--lost-supply", "0@2003000").Output.Frames, f => f.Bus == "a" && f.StartUs > 2_004_000);
    }

    // MISO stays high, as with a wire that is broken: every read gives ones.
    [Theory]
    [InlineData(Avr)]
    [InlineData(Rp2040)]
    [InlineData(Rp2040Fd)]
    public void One_that_does_not_answer_is_asked_again(string kind)
    {
        var (plan, stimulus) = GuardedBoard.Of(kind).Load(Pair, "{}", "for: 8 s");
        using var board = new EmulatedBoard(plan);
        var hit = board.Run(stimulus, "--deaf", "0@2003000-3003000");
        Held(board.Run(stimulus), hit, 2_003_000, 3_003_000 + CareUs(kind));
        Assert.DoesNotContain(hit.Output.Frames, f => f.Bus == "a" && f.StartUs is > 2_060_000 and < 3_003_000);
    }

    [Theory]
    [InlineData(Avr)]
    [InlineData(Rp2040)]
    [InlineData(Rp2040Fd)]
    public void One_that_is_missing_at_the_start_is_found_later(string kind)
    {
        var (plan, stimulus) = GuardedBoard.Of(kind).Load(Pair, "{}", "for: 3 s");
        using var board = new EmulatedBoard(plan);
        var hit = board.Emulate(stimulus, "--deaf", "0@0-500000");
        Assert.Empty(hit.Faults);
        Assert.All(hit.Frames.Where(f => f.Bus == "a"), f => Assert.True(f.StartUs > 500_000));
        Assert.InRange(hit.Frames.Count(f => f.Bus == "a" && f.StartUs > 500_000 + CareUs(kind)), (2_500_000 - CareUs(kind)) / 10_000 - 5, (2_500_000 - CareUs(kind)) / 10_000 + 5);
        Assert.InRange(hit.Frames.Count(f => f.Bus == "b" && f.StartUs is > 0 and < 500_000), 20, 50);
    }

    // A look at the controllers every second on the AVR, every 40 ms on the RP2040; then its crystal, its settings, a frame.
    private static int CareUs(string kind) => kind is Avr ? 1_150_000 : 147_000;

    // Frames outside the time of trouble are the same, on the other bus all of them.
    private void Held(EmulatedRun whole, EmulatedRun hit, double from, double until)
    {
        static List<double> Times(EmulatedRun run, string bus, Func<double, bool> which) =>
            [.. run.Output.Frames.Where(f => f.Bus == bus && f.StartUs >= 0).Select(f => Math.Round(run.Clock.Simulated(f.AcceptedUs) / 1_000)).Where(t => which(t * 1_000))];
        Assert.Empty(hit.Output.Faults);
        Assert.Equal(Times(whole, "b", _ => true), Times(hit, "b", _ => true));
        Assert.Equal(Times(whole, "a", t => t < from), Times(hit, "a", t => t < from));
        var after = Times(whole, "a", t => t > until);
        Assert.True(after.Count > 200);
        Assert.Equal(after, Times(hit, "a", t => t > until));
        log.WriteLine($"{after.Count} frames behind the trouble");
    }

    // A tenth of a second of reads that give anything. The controller hears what it is told, and may be told wrong things.
    [Theory]
    [InlineData(Avr)]
    [InlineData(Rp2040)]
    [InlineData(Rp2040Fd)]
    public void Noise_is_over_when_it_is_over(string kind)
    {
        var (plan, stimulus) = GuardedBoard.Of(kind).Load(Pair, "{}", "for: 6 s");
        using var board = new EmulatedBoard(plan);
        var whole = board.Run(stimulus);
        var hit = board.Run(stimulus, "--noise", "0@2003000-2103000");
        Held(whole, hit, 2_003_000, 2_103_000 + CareUs(kind));
        Assert.Subset(Texts(whole), Texts(hit));

        static HashSet<string> Texts(EmulatedRun run) => [.. run.Output.Frames.Select(f => $"{f.Bus} {f.Id} {Convert.ToHexString(f.Data)}")];
    }
}
