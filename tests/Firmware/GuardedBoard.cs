using Locum.Model;
using Locum.Planning;
using Locum.Simulation;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Firmware;

/// <summary>One module with guards on an emulated board, and what its LED shows.</summary>
/// <param name="ToleranceUs">Release within this time of the simulator's, as README states.</param>
/// <param name="Led">Pin of the LED as the emulator names it.</param>
/// <param name="LitHigh">Level at which it is lit.</param>
internal sealed record GuardedBoard(string Kind, double ToleranceUs, string Led, bool LitHigh)
{
    // A cycle of the LED has 16 parts of 2^18 us of the board's clock; a flash lasts one (boards' README).
    private const long PartUs = 1 << 18;
    private const long CycleUs = 16 * PartUs;
    // What is accepted later may not start any more.
    private const long EndUs = 5_000;
    // 11 bits, and the handshake before them.
    private const double JoinUs = 50;
    // The LED is looked at whenever the board wakes, at least this often.
    private const long LateUs = 60_000;

    public static GuardedBoard Avr { get; } = new("avr-mcp2515", 320, "B0", true);

    public static GuardedBoard Stm32 { get; } = new("stm32f103-bxcan", 45, "C13", false);

    // Its frames leave as WireOrder says; the pin is given in the project.
    public static GuardedBoard Linux { get; } = new("linux-socketcan", 60, "2", true);

    public static GuardedBoard Own { get; } = new("own-board", 100, "16", true);

    public static GuardedBoard Esp32 { get; } = new("esp32-twai", 100, "2", true);

    public static GuardedBoard Sam3x { get; } = new("sam3x8e-can", 40, "B27", true);

    public static GuardedBoard Rp2040 { get; } = new("rp2040-mcp2515", 160, "A25", true);

    public static GuardedBoard Rp2040Fd { get; } = Rp2040 with { Kind = "rp2040-mcp2518fd", ToleranceUs = 220 };

    public static GuardedBoard Imxrt { get; } = new("imxrt1062-flexcan", 20, "B3", true);

    public static GuardedBoard Of(string kind) =>
        new[] { Avr, Stm32, Linux, Esp32, Own, Sam3x, Rp2040, Rp2040Fd, Imxrt }.FirstOrDefault(b => b.Kind == kind) ?? Stm32 with { Kind = kind, ToleranceUs = kind is "stm32g0b1-fdcan" ? 120 : 60 };

    /// <summary>The source that implements the port's functions.</summary>
    public string Port => Kind == Sam3x.Kind || Kind == Imxrt.Kind || Kind.StartsWith("rp2040", StringComparison.Ordinal) ? "port/cortexm_port.c" : "port/port.c";

    /// <summary>The size tools' prefix.</summary>
    public string Tools => Kind == Avr.Kind ? "avr-" : "arm-none-eabi-";

    public (BoardPlan Plan, Stimulus Stimulus) Load(string module, string guards, string stimulus)
    {
        var loaded = new GeneratedProject(["locum: 1\nmodule: m\nhazard: none\n" + module], ["locum: 1\nstimulus: s\n" + stimulus]) { Guards = guards }.Load();
        // A Linux computer has no LED unless it is told where.
        var use = Kind == Linux.Kind ? loaded.Use with { Led = new Setting($"GPIO{Led}", loaded.Use.Span) } : loaded.Use;
        return (GeneratedProject.On(Kind, use)!, loaded.Stimuli[0]);
    }

    /// <summary>Runs a board and holds frames and LED against the simulator's frames and silences.</summary>
    public (SimulationResult Expected, EmulatedRun Run, Latency Latency) Check(EmulatedBoard board, BoardPlan plan, Stimulus stimulus)
    {
        var expected = board.Simulate(stimulus);
        var run = board.Run(stimulus with { Stalls = [] }, "--watch", Led);
        var latency = Latency.Check(plan, expected, run, ToleranceUs);
        CheckStarts(expected, run);
        Assert.True(Shown(run, expected, stimulus) > 0);
        return (expected, run, latency);
    }

    // Frames that were taken back never start; those that wait for a controller that was off start when it is back.
    private void CheckStarts(SimulationResult expected, EmulatedRun run)
    {
        var wanted = expected.Frames.Where(f => f.Sender.Length > 0).OrderBy(f => f.AcceptedUs).ThenBy(f => f.Id.ArbitrationKey);
        foreach (var (simulated, real) in wanted.Zip(run.Output.Frames.OrderBy(f => f.AcceptedUs)).Where(p => p.First.AcceptedUs < expected.EndUs - EndUs))
        {
            Assert.Equal((simulated.AcceptedUs, simulated.StartUs >= 0), (simulated.AcceptedUs, real.StartUs >= 0));
            if (simulated.StartUs < 0)
                continue;
            var late = run.Clock.Simulated(real.StartUs) - simulated.StartUs;
            Assert.True(late >= -2 && late < ToleranceUs + JoinUs, $"{simulated.AcceptedUs} us {simulated.Sender} started {late:0.0} us late");
        }
    }

    /// <summary>Fails unless every whole cycle within one silence, or between silences, shows it; how many cycles there were.</summary>
    public int Shown(EmulatedRun run, SimulationResult expected, Stimulus stimulus)
    {
        var cycles = 0;
        var resets = run.Clock.Begins;
        var changes = expected.Silences.Select(s => (s.AtUs, s.Reason)).Concat(resets.Select(r => (AtUs: r, Reason: Silence.None)))
            .OrderBy(c => c.AtUs).ThenBy(c => c.Reason).ToList();
        for (var i = 0; i < changes.Count; i++)
        {
            var (from, reason) = changes[i];
            var until = i + 1 < changes.Count ? changes[i + 1].AtUs : expected.EndUs;
            var begin = resets.Last(r => r <= from);
            for (var cycle = (from - begin + CycleUs - 1) / CycleUs; begin + (cycle + 1) * CycleUs <= until; cycle++)
            {
                // A bus that is off is shown, too.
                if (reason is Silence.None && stimulus.BusOffs.Any(b => b.AtUs < begin + (cycle + 1) * CycleUs && b.AtUs > begin + (cycle - 1) * CycleUs))
                    continue;
                Assert.Equal((cycle, Pattern(reason)), (cycle, Parts(run, begin + cycle * CycleUs)));
                cycles++;
            }
        }
        return cycles;
    }

    private static string Pattern(Silence reason) =>
        reason is Silence.None ? new string('#', 16) : string.Concat(Enumerable.Repeat("#.", (int)reason)).PadRight(16, '.');

    // What the LED shows late in each part: lit or dark.
    private string Parts(EmulatedRun run, long cycle) => string.Concat(Enumerable.Range(0, 16).Select(part =>
    {
        var at = cycle + part * PartUs;
        var (first, last) = (LitAt(run, at + LateUs), LitAt(run, at + PartUs - 1));
        return first == last ? first ? '#' : '.' : '?';
    }));

    private bool LitAt(EmulatedRun run, long at) => run.Output.Pins.LastOrDefault(p => run.Clock.Simulated(p.AtUs) <= at) is { } level && level.High == LitHigh;
}
