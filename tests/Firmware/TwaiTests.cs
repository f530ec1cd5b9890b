using Locum.Model;
using Locum.Planning;
using Locum.Simulation;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>The program for the TWAI driver, compiled for this computer and linked with a model of the driver and its system.</summary>
public sealed class TwaiTests(Emulators emulators, ITestOutputHelper log) : IClassFixture<Emulators>
{
    private const string Esp32 = "esp32-twai";
    private const string Esp32C6 = "esp32c6-twai";
    private const double ToleranceUs = 100;
    // Consecutive frames of long answers pass on what the ones before were late.
    private const double AnsweringToleranceUs = 1_500;
    private const string Can = "port/can.c";

    private const string Beat = """
        buses: {b: {rate: 500 kbit/s}}
        inputs: {key: {active: high}}
        modes: {first: {for: 2500 ms, then: second}, second: {until: {key: active, then: third}}, third: {}}
        frames:
          Fast:
            id: 0x120
            length: 4
            every: 10 ms
            offset: 3 ms
            fields:
              mode: {bit: 0, bits: 8, value: {first: 1, second: 2, third: 3}}
              sent: {bit: 8, bits: 8, counter: {}}
              slots: {bit: 16, bits: 8, counter: {advance: slot}}
          Slow: {id: 0x18FF1234, length: 8, every: 100 ms, offset: 3 ms, fields: {n: {bit: 0, bits: 8, counter: {}}}}
          Middle: {id: 0x130, length: 8, every: 100 ms, offset: 3 ms, base: 01 02 03 04 05 06 07 08}
          Third: {id: 0x125, length: 0, every: 50 ms, in: [third]}
        """;

    private const string Quiet = "for: 9 s\ninputs: {key: {at: 4128 ms, level: active}}";
    private const string Foreign = "for: 14 s\ntraffic: {b: [{id: 0x121, every: 10 ms, offset: 5 ms, data: 01}, {id: 0x18FF1234, at: 5104 ms, data: 00 00}]}";
    private const string Count = "{bus off: {recoveries: 2, within: 5 s, wait: 205 ms}}";
    private const string BusOffs = "for: 20 s\nbus off: {b: [1201 ms, 1601 ms, 7 s, 7600 ms, 8401 ms]}\nblocked: {b: [{from: 6982 ms, until: 7001 ms}]}";
    private const string OffUnasked = "for: 20 s\nbus off: {b: [1201 ms, 6995 ms]}\nblocked: {b: [{from: 6982 ms, until: 6996 ms}]}";
    private const string Blocked = "for: 9 s\nblocked: {b: [{from: 6982 ms, until: 7012 ms}]}";
    private const string Ignore = "{foreign sender: ignore}";
    private const string Run = "{run at most: 1601 ms}";
    private const string Watchdog = "for: 14 s\nresets: {at: 4001 ms, cause: watchdog}";

    [Theory]
    [InlineData(Esp32, "cab", ToleranceUs)]
    [InlineData(Esp32, "bogie", ToleranceUs)]
    [InlineData(Esp32, "side", ToleranceUs)]
    [InlineData(Esp32, "rear", AnsweringToleranceUs)]
    [InlineData("esp32s3-twai", "cab", ToleranceUs)]
    [InlineData("esp32c3-twai", "cab", ToleranceUs)]
    [InlineData(Esp32C6, "cab", ToleranceUs)]
    [InlineData(Esp32C6, "floor", ToleranceUs)]
    public void Demo_modules_send_the_simulators_frames(string kind, string name, double tolerance)
    {
        var (plan, stimulus) = OtherBoards.Demo(name, kind);
        using var board = new EmulatedBoard(emulators, plan);
        var run = board.Run(stimulus);
        var order = WireOrder.Check(plan, board.Simulate(stimulus), run, tolerance);
        Assert.True(order.Compared > 100);
        Assert.True(run.Output.Measures["sleep_share"] > 0.9);
        log.WriteLine($"{name} on {kind}: {order.Compared} frames identical, at most {order.WorstUs:0.0} us late, {order.Overtaken} behind what the driver had already");
    }

    [Theory]
    [InlineData("{}", Quiet, "")]
    [InlineData("{}", Foreign, "ForeignSender")]
    [InlineData(Count, BusOffs, "BusOff")]
    [InlineData(Ignore, OffUnasked, "")]
    [InlineData(Ignore, Blocked, "")]
    [InlineData(Run, "for: 14 s", "RunTime")]
    [InlineData(Run, Watchdog, "RunTime RunTime")]
    [InlineData(Run, "for: 14 s\nresets: {at: 4001 ms, cause: brown-out}", "RunTime RunTime")]
    [InlineData(Run, "for: 14 s\nresets: {at: 4001 ms, cause: power}", "RunTime RunTime")]
    [InlineData("{reset: resume}", Watchdog, "")]
    [InlineData("{enable: {input: bench, active: low, debounce: 20 ms}}", "for: 14 s\ninputs: {bench: [{at: 4501 ms, level: active}, {at: 11001 ms, level: inactive}]}", "Disabled None Disabled")]
    public void Guards_and_resets_are_the_simulators(string guards, string stimulus, string silences)
    {
        var (plan, when) = GuardedBoard.Esp32.Load(Beat, guards, stimulus);
        using var board = new EmulatedBoard(emulators, plan);
        var (expected, order) = Check(board, plan, when);
        Assert.Equal(silences, string.Join(' ', expected.Silences.Select(s => s.Reason)));
        Assert.True(order.Compared > 150);
    }

    [Theory]
    [InlineData("{}", Quiet, "board_config.h", "22, 10u", "22, 8u")]
    [InlineData("{}", Quiet, Can, "mailboxes_sent(&state->boxes);", "")]
    [InlineData("{}", Quiet, Can, "message.extd = 1;", "")]
    [InlineData("{}", Quiet, Can, "(void)xTaskNotifyGive(board_task);", "")]
    [InlineData("{}", Quiet, Can, "general.alerts_enabled = ALERTS;", "")]
    [InlineData("{}", Quiet, "port/mailboxes.c", "order_of(frame->id) < order_of(first->id)", "order_of(frame->id) > order_of(first->id)")]
    [InlineData("{}", Quiet, "port/lines.c", "GPIO_INTR_ANYEDGE", "GPIO_INTR_POSEDGE")]
    [InlineData("{}", Quiet, "port/lines.c", "board_must(gpio_install_isr_service(0));", "")]
    [InlineData("{}", Quiet, "port/port.c", "(void)esp_timer_stop(alarm_clock);", "")]
    [InlineData("{}", Quiet, "port/port.c", "board_must(esp_task_wdt_reset());", "")]
    [InlineData("{}", Foreign, "port/can.c", "(message.extd != 0u ? LOCUM_ID_EXTENDED : 0u)", "0u")]
    [InlineData(Count, BusOffs, Can, "board_must(twai_start_v2(state->driver));\n        state->off", "state->off")]
    [InlineData(Count, BusOffs, Can, "TWAI_ALERT_BUS_OFF | TWAI_ALERT_BUS_RECOVERED", "TWAI_ALERT_BUS_RECOVERED")]
    [InlineData(Ignore, OffUnasked, Can, "        mailboxes_lost(&state->boxes);\n", "")]
    [InlineData("{reset: resume}", Watchdog, "port/port.c", "case ESP_RST_TASK_WDT:", "")]
    public void A_port_with_a_mistake_is_caught(string guards, string stimulus, string file, string right, string wrong)
    {
        var (plan, when) = GuardedBoard.Esp32.Load(Beat, guards, stimulus);
        using var board = EmulatedBoard.Mutated(emulators, plan, file, right, wrong);
        Assert.ThrowsAny<Exception>(() => Check(board, plan, when));
    }

    // An Arduino sketch is one folder without paths: every file's name is there once, and they compile side by side.
    [Fact]
    public void The_sketch_is_one_folder()
    {
        var (plan, _) = OtherBoards.Demo("cab", Esp32);
        using var folder = new FirmwareFolder(plan);
        Shell.Must("make", ["-s", "-C", folder.Root, "arduino"]);
        var sketch = Path.Combine(folder.Root, "arduino", "sketch");
        var names = folder.Files.Select(f => f.Path).Where(p => p.EndsWith(".c", StringComparison.Ordinal) || p.EndsWith(".h", StringComparison.Ordinal)).Select(p => Path.GetFileName(p)!).ToList();
        Assert.Equal(names.Order().Distinct(), names.Order());
        Assert.Equal(names.Append("sketch.ino").Order(), Directory.GetFiles(sketch).Select(f => Path.GetFileName(f)!).Order());
        var sources = names.Where(n => n.EndsWith(".c", StringComparison.Ordinal));
        Shell.Must("gcc", ["-std=gnu17", "-Wall", "-Wextra", "-Werror", "-DESP_PLATFORM", "-DARDUINO", $"-I{RepoRoot.Path("tests", "emulators", "twai", "include")}", "-c", .. sources], sketch);
        Shell.Must("clang", ["-Wall", "-Wextra", "-Werror", "-x", "c++", "-fsyntax-only", "sketch.ino"], sketch);
    }

    private static (SimulationResult Expected, WireOrder Order) Check(EmulatedBoard board, BoardPlan plan, Stimulus stimulus)
    {
        var expected = board.Simulate(stimulus);
        var run = board.Run(stimulus, "--watch", GuardedBoard.Esp32.Led);
        var order = WireOrder.Check(plan, expected, run, ToleranceUs);
        Assert.True(GuardedBoard.Esp32.Shown(run, expected, stimulus) > 0);
        return (expected, order);
    }
}
