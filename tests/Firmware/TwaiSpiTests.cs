using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Tests.Properties;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>ESP32 boards with a second bus, whose controller is on SPI: the drivers' models, an MCP2515 behind the SPI's.</summary>
public sealed class TwaiSpiTests(ITestOutputHelper log)
{
    private const string Esp32 = "esp32-twai";
    // A release waits for transactions on the SPI, one bus after the other.
    private const double ToleranceUs = 300;

    private const string Gateway = """
        buses: {a: {rate: 500 kbit/s}, b: {rate: 250 kbit/s}}
        receives:
          FromA: {bus: a, id: 0x155, timeout: 500 ms, fields: {v: {bit: 0, bits: 8}}}
          FromB: {bus: b, id: 0x18FF0055, timeout: 500 ms, fields: {v: {bit: 8, bits: 8}}}
        frames:
          ToB: {bus: b, id: 0x120, length: 8, every: 20 ms, offset: 3 ms, fields: {v: {bit: 0, bits: 8, follow: FromA.v, lost: 255}, n: {bit: 8, bits: 8, counter: {}}}}
          LateB: {bus: b, id: 0x18FF1234, length: 8, every: 100 ms, offset: 3 ms, fields: {n: {bit: 0, bits: 8, counter: {}}}}
          MiddleB: {bus: b, id: 0x130, length: 4, every: 100 ms, offset: 3 ms}
          ToA: {bus: a, id: 0x121, length: 3, every: 20 ms, offset: 7 ms, fields: {v: {bit: 0, bits: 8, follow: FromB.v, lost: 254}, n: {bit: 8, bits: 8, counter: {}}}}
          Reply: {bus: b, id: 0x140, length: 1, on: [{receive: FromB}], fields: {n: {bit: 0, bits: 8, counter: {}}}}
        """;

    private const string Traffic = """
        for: 6 s
        traffic:
          a: [{id: 0x155, every: 50 ms, offset: 11 ms, until: 3 s, data: 07, changes: [{at: 1501 ms, data: 09}]}, {id: 0x156, every: 10 ms, offset: 2 ms, data: 55}]
          b: [{id: 0x18FF0055, every: 70 ms, offset: 13 ms, until: 4 s, data: 00 21}, {id: 0x18FF0056, every: 10 ms, offset: 4 ms, data: 55 66}]
        blocked: {b: [{from: 1102 ms, until: 1110 ms}, {from: 2201 ms, until: 2209 ms}]}
        """;

    private const string OffB = "for: 12 s\nbus off: {b: [1211 ms, 1611 ms, 7 s, 7611 ms, 8411 ms]}";
    private const string Count = "{bus off: {recoveries: 2, within: 5 s, wait: 205 ms}}";

    [Theory]
    [InlineData(Esp32)]
    [InlineData("esp32s3-twai")]
    [InlineData("esp32c3-twai")]
    public void Both_buses_carry_the_simulators_frames(string kind)
    {
        var (plan, stimulus) = GuardedBoard.Of(kind).Load(Gateway, "{}", Traffic);
        Assert.Equal(["TWAI", "SPI"], plan.Buses.Select(b => b.Settings["controller"]));
        using var board = new EmulatedBoard(plan);
        var order = Check(board, plan, stimulus);
        Assert.True(order.Compared > 700);
        log.WriteLine($"{kind}: {order.Compared} frames identical, at most {order.WorstUs:0.0} us late");
    }

    [Fact]
    public void The_demos_lift_pump_runs_on_two_kinds_of_controllers()
    {
        var (plan, stimulus) = OtherBoards.Demo("floor", Esp32);
        using var board = new EmulatedBoard(plan);
        Assert.True(Check(board, plan, stimulus).Compared > 100);
    }

    // The modules name bus a first; the project gives it the controller on SPI.
    [Fact]
    public void The_project_may_choose_which_bus_is_on_spi()
    {
        var loaded = new GeneratedProject([$"locum: 1\nmodule: m\nhazard: none\n{Gateway}\n"], [$"locum: 1\nstimulus: s\n{Traffic}\n"]).Load();
        var stimulus = loaded.Stimuli[0];
        var onSpi = new Dictionary<string, Setting> { ["controller"] = new("SPI", loaded.Use.Span), ["cs"] = new("IO13", loaded.Use.Span) };
        var use = loaded.Use with { Kind = Esp32, BusSettings = new Dictionary<string, IReadOnlyDictionary<string, Setting>> { ["a"] = onSpi } };
        var plan = BoardPlanner.Plan(use, new DiagnosticBag())!;
        Assert.Equal(["SPI", "TWAI"], plan.Buses.Select(b => b.Settings["controller"]));
        using var board = new EmulatedBoard(plan);
        Assert.True(Check(board, plan, stimulus).Compared > 700);
    }

    [Fact]
    public void Bus_offs_of_the_controller_on_spi_are_counted()
    {
        var (plan, stimulus) = GuardedBoard.Of(Esp32).Load(Gateway, Count, OffB);
        using var board = new EmulatedBoard(plan);
        Assert.Equal("BusOff", string.Join(' ', board.Simulate(stimulus).Silences.Select(s => s.Reason)));
        Assert.True(Check(board, plan, stimulus).Compared > 150);
    }

    [Theory]
    [InlineData("{}", Traffic, "port/spi_can.c", "frame->bus = BOARD_SPI_BUS;", "")]
    [InlineData("{}", Traffic, "port/lines.c", "GPIO_INTR_NEGEDGE", "GPIO_INTR_POSEDGE")]
    [InlineData("{}", Traffic, "port/spi.c", ".mode = 0", ".mode = 1")]
    [InlineData("{}", Traffic, "port/spi.c", "in[looked++]", "in[looked]")]
    [InlineData("{}", Traffic, "port/spi.c", "#define SPI_HZ 10000000", "#define SPI_HZ 20000000")]
    [InlineData("{}", Traffic, "board_config.h", "#define BOARD_SPI_MISO 19", "#define BOARD_SPI_MISO 23")]
    [InlineData("{}", Traffic, "board_config.h", ", 0xA7, 0x01)", ", 0xA7, 0x02)")]
    [InlineData(Count, OffB, "port/port.c", "    spi_can_watch(locum_port_now_us());", "")]
    public void A_port_with_a_mistake_is_caught(string guards, string stimulus, string file, string right, string wrong)
    {
        var (plan, when) = GuardedBoard.Of(Esp32).Load(Gateway, guards, stimulus);
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
        Assert.ThrowsAny<Exception>(() => Check(board, plan, when));
    }

    private static WireOrder Check(EmulatedBoard board, BoardPlan plan, Stimulus stimulus) =>
        WireOrder.Check(plan, board.Simulate(stimulus), board.Run(stimulus), ToleranceUs);
}
