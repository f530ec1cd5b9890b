using Locum.Model;
using Locum.Planning;
using Locum.Simulation;
using Xunit;
using Xunit.Abstractions;
using static Locum.Tests.Firmware.DriverTrials;

namespace Locum.Tests.Firmware;

/// <summary>The program for the TWAI driver, compiled for this computer and linked with a model of the driver and its system.</summary>
public sealed class TwaiTests(ITestOutputHelper log)
{
    private const string Esp32 = "esp32-twai";
    private const string Esp32C6 = "esp32c6-twai";
    private const double ToleranceUs = 100;
    // Consecutive frames of long answers pass on what the ones before were late.
    private const double AnsweringToleranceUs = 1_500;
    private const string Can = "port/can.c";

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
        using var board = new EmulatedBoard(plan);
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
    [InlineData(Ignore, BlockedOnce, "")]
    [InlineData(Run, "for: 14 s", "RunTime")]
    [InlineData(Run, Watchdog, "RunTime RunTime")]
    [InlineData(Run, "for: 14 s\nresets: {at: 4001 ms, cause: brown-out}", "RunTime RunTime")]
    [InlineData(Run, "for: 14 s\nresets: {at: 4001 ms, cause: power}", "RunTime RunTime")]
    [InlineData("{reset: resume}", Watchdog, "")]
    [InlineData("{enable: {input: bench, active: low, debounce: 20 ms}}", "for: 14 s\ninputs: {bench: [{at: 4501 ms, level: active}, {at: 11001 ms, level: inactive}]}", "Disabled None Disabled")]
    public void Guards_and_resets_are_the_simulators(string guards, string stimulus, string silences)
    {
        var (plan, when) = GuardedBoard.Esp32.Load(Beat, guards, stimulus);
        using var board = new EmulatedBoard(plan);
        var (expected, order) = Check(board, plan, when);
        Assert.Equal(silences, string.Join(' ', expected.Silences.Select(s => s.Reason)));
        Assert.True(order.Compared > 150);
    }

    [Theory]
    [Sampled("{}", Quiet, "board_config.h", "22, 10u", "22, 8u")]
    [Sampled("{}", Quiet, Can, "mailboxes_sent(&state->boxes);", "")]
    [Sampled("{}", Quiet, Can, "message.extd = 1;", "")]
    [Sampled("{}", Quiet, Can, "(void)xTaskNotifyGive(board_task);", "")]
    [Sampled("{}", Quiet, Can, "general.alerts_enabled = ALERTS;", "")]
    [Sampled("{}", Quiet, "port/mailboxes.c", "order_of(frame->id) < order_of(first->id)", "order_of(frame->id) > order_of(first->id)")]
    [InlineData("{}", Quiet, "port/lines.c", "GPIO_INTR_ANYEDGE", "GPIO_INTR_NEGEDGE")]
    [Sampled("{}", Quiet, "port/lines.c", "board_must(gpio_install_isr_service(0));", "")]
    [Sampled("{}", Quiet, "port/port.c", "(void)esp_timer_stop(alarm_clock);", "")]
    [Sampled("{}", Quiet, "port/port.c", "board_must(esp_task_wdt_reset());", "")]
    [Sampled("{}", Foreign, "port/can.c", "(message.extd != 0u ? LOCUM_ID_EXTENDED : 0u)", "0u")]
    [Sampled(Count, BusOffs, Can, "board_must(twai_start_v2(state->driver));\n        state->off", "state->off")]
    [Sampled(Count, BusOffs, Can, "TWAI_ALERT_BUS_OFF | TWAI_ALERT_BUS_RECOVERED", "TWAI_ALERT_BUS_RECOVERED")]
    [Sampled(Ignore, OffUnasked, Can, "        mailboxes_lost(&state->boxes);\n", "")]
    [Sampled("{reset: resume}", Watchdog, "port/port.c", "case ESP_RST_TASK_WDT:", "")]
    public void A_port_with_a_mistake_is_caught(string guards, string stimulus, string file, string right, string wrong)
    {
        var (plan, when) = GuardedBoard.Esp32.Load(Beat, guards, stimulus);
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
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
