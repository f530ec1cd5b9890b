using Locum.Model;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>Every guard on the emulated boards: the simulator's frames, its silences on the LED.</summary>
public sealed class GuardTests(ITestOutputHelper log)
{
    private const string Beat = """
        buses: {b: {rate: 500 kbit/s}}
        modes: {first: {for: 2500 ms, then: second}, second: {}}
        frames:
          Fast:
            id: 0x120
            length: 4
            every: 10 ms
            offset: 3 ms
            fields:
              mode: {bit: 0, bits: 8, value: {first: 1, second: 2}}
              sent: {bit: 8, bits: 8, counter: {}}
              slots: {bit: 16, bits: 8, counter: {advance: slot}}
              check: {bit: 24, bits: 8, checksum: {rule: crc8-sae-j1850, over: 0..2}}
          Slow: {id: 0x18FF1234, length: 8, every: 100 ms, offset: 7 ms, fields: {n: {bit: 0, bits: 8, counter: {}}}}
        """;

    // Neighbours, the same number with another length, and in the end one of the board's own.
    private const string Foreign = """
        for: 14 s
        traffic:
          b:
            - {id: 0x121, every: 10 ms, offset: 5 ms, data: 01}
            - {id: 0x120, id kind: 29 bit, every: 10 ms, offset: 6 ms, data: 01}
            - {id: 0x18FF1234, at: 5104 ms, data: 00 00}
        """;

    // The third one is counted anew, two more are too many. The controller is back 2816 us after the restart at 1406 ms; Slow
    // waits for that. At the third one Fast waits in a mailbox, and its next one for room; later both frames wait side by side.
    private const string Count = "{bus off: {recoveries: 2, within: 5 s, wait: 205 ms}}";
    private const string BusOffs = "for: 20 s\nbus off: {b: [1201 ms, 1601 ms, 7 s, 7600 ms, 8401 ms]}\nblocked: {b: [{from: 6982 ms, until: 7001 ms}, {from: 7302 ms, until: 7312 ms}]}";

    private const string Bench = "{enable: {input: bench}}";
    private const string Blocked = """
        for: 9 s
        inputs: {bench: [{at: 1 ms, level: active}, {at: 4016 ms, level: inactive}, {at: 4024 ms, level: active}]}
        blocked: {b: {from: 4002 ms, until: 4018 ms}}
        """;

    private const string Resume = "{reset: resume}";
    private const string Run = "{run at most: 1601 ms}";
    private const string Watchdog = "for: 9 s\nresets: {at: 4001 ms, cause: watchdog}";

    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("stm32f405-bxcan")]
    [Sampled("stm32g431-fdcan")]
    [Sampled("stm32h743-fdcan")]
    [Sampled("stm32f105-bxcan")]
    [Sampled("stm32g0b1-fdcan")]
    [Sampled("sam3x8e-can")]
    [Sampled("rp2040-mcp2515")]
    [Sampled("rp2040-mcp2518fd")]
    [Sampled("imxrt1062-flexcan")]
    public void A_foreign_sender_silences_the_board_for_good(string kind) =>
        Check(kind, "{}", Foreign, "5104172 ForeignSender");

    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("stm32f405-bxcan")]
    [Sampled("stm32g431-fdcan")]
    [Sampled("stm32h743-fdcan")]
    [Sampled("sam3x8e-can")]
    [Sampled("rp2040-mcp2515")]
    [Sampled("rp2040-mcp2518fd")]
    [Sampled("imxrt1062-flexcan")]
    public void After_a_bus_off_the_board_pauses_and_after_one_too_many_it_is_silent(string kind) =>
        Check(kind, Count, BusOffs, "8401000 BusOff");

    // Off, back 2816 us after the restart at 1406 ms, and off again before anything is due: that counts, too.
    private const string Twice = "for: 14 s\nbus off: {b: [1201 ms, 1411500 us, 1641 ms]}";

    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("stm32f405-bxcan")]
    [Sampled("stm32g431-fdcan")]
    [Sampled("stm32h743-fdcan")]
    [Sampled("sam3x8e-can")]
    [Sampled("rp2040-mcp2515")]
    [Sampled("rp2040-mcp2518fd")]
    [Sampled("imxrt1062-flexcan")]
    public void A_bus_off_soon_after_the_last_one_counts(string kind) => Check(kind, Count, Twice, "1641000 BusOff");

    // The frame on the wire at the bus-off goes on; what waits in the controller stays there and goes when it is back.
    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("stm32f405-bxcan")]
    [Sampled("stm32g431-fdcan")]
    [Sampled("stm32h743-fdcan")]
    [Sampled("sam3x8e-can")]
    [Sampled("rp2040-mcp2515")]
    [Sampled("rp2040-mcp2518fd")]
    [Sampled("imxrt1062-flexcan")]
    public void Without_the_guard_the_controller_comes_back_by_itself(string kind) =>
        Check(kind, "{foreign sender: ignore}", """
            for: 14 s
            bus off: {b: [1201 ms, 1601 ms, 2602500 us, 2800 ms]}
            """, "");

    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("stm32f405-bxcan")]
    [Sampled("stm32g431-fdcan")]
    [Sampled("stm32h743-fdcan")]
    [Sampled("stm32f105-bxcan")]
    [Sampled("stm32g0b1-fdcan")]
    [Sampled("sam3x8e-can")]
    [Sampled("rp2040-mcp2515")]
    [Sampled("rp2040-mcp2518fd")]
    [Sampled("imxrt1062-flexcan")]
    public void The_board_sends_while_its_enable_input_is_active(string kind) =>
        Check(kind, "{enable: {input: bench, active: low, debounce: 20 ms}}", """
            for: 20 s
            inputs: {bench: [{at: 4501 ms, level: active}, {at: 11001 ms, level: inactive}, {at: 11011 ms, level: active}, {at: 13 s, level: inactive}]}
            """, "0 Disabled\n4521000 None\n13020000 Disabled");

    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("stm32g431-fdcan")]
    [Sampled("sam3x8e-can")]
    [Sampled("rp2040-mcp2515")]
    [Sampled("rp2040-mcp2518fd")]
    [Sampled("imxrt1062-flexcan")]
    public void The_time_to_run_ends(string kind) =>
        Check(kind, "{run at most: 5001 ms}", "for: 14 s", "5001000 RunTime");

    // Both frames are in mailboxes and a second Fast is pending when silence begins: all are taken back, and slots counts on.
    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("stm32f405-bxcan")]
    [Sampled("stm32g431-fdcan")]
    [Sampled("stm32h743-fdcan")]
    [Sampled("sam3x8e-can")]
    [Sampled("rp2040-mcp2515")]
    [Sampled("rp2040-mcp2518fd")]
    [Sampled("imxrt1062-flexcan")]
    public void What_waits_is_taken_back_when_silence_begins(string kind)
    {
        var (expected, run) = Check(kind, Bench, Blocked, "0 Disabled\n1000 None\n4016000 Disabled\n4024000 None");
        Assert.Equal(2, expected.Frames.Count(f => f.StartUs < 0 && f.AcceptedUs < 4_016_000));
        Assert.Equal(2, run.Output.Frames.Count(f => f.StartUs < 0 && run.Clock.Simulated(f.AcceptedUs) < 4_016_000));
    }

    [Theory]
    [InlineData("avr-mcp2515", "cold", "watchdog")]
    [InlineData("avr-mcp2515", "resume", "watchdog")]
    [InlineData("avr-mcp2515", "resume", "brown-out")]
    [InlineData("avr-mcp2515", "resume", "power")]
    [InlineData("stm32f103-bxcan", "cold", "watchdog")]
    [InlineData("stm32f103-bxcan", "resume", "watchdog")]
    [Sampled("stm32f405-bxcan", "resume", "watchdog")]
    [Sampled("stm32g431-fdcan", "resume", "watchdog")]
    [Sampled("stm32h743-fdcan", "resume", "watchdog")]
    [Sampled("stm32f105-bxcan", "resume", "watchdog")]
    [Sampled("stm32g0b1-fdcan", "resume", "watchdog")]
    [InlineData("stm32f103-bxcan", "resume", "brown-out")]
    [Sampled("stm32f405-bxcan", "resume", "brown-out")]
    [Sampled("stm32g431-fdcan", "resume", "brown-out")]
    [Sampled("stm32h743-fdcan", "resume", "brown-out")]
    [InlineData("stm32f103-bxcan", "resume", "power")]
    [Sampled("stm32f405-bxcan", "resume", "power")]
    [Sampled("stm32g431-fdcan", "resume", "power")]
    [Sampled("stm32h743-fdcan", "resume", "power")]
    [Sampled("sam3x8e-can", "cold", "watchdog")]
    [Sampled("sam3x8e-can", "resume", "watchdog")]
    [Sampled("sam3x8e-can", "resume", "brown-out")]
    [Sampled("sam3x8e-can", "resume", "power")]
    [Sampled("rp2040-mcp2515", "resume", "watchdog")]
    [Sampled("rp2040-mcp2515", "resume", "brown-out")]
    [Sampled("rp2040-mcp2518fd", "resume", "watchdog")]
    [Sampled("imxrt1062-flexcan", "resume", "watchdog")]
    [Sampled("imxrt1062-flexcan", "resume", "brown-out")]
    [Sampled("imxrt1062-flexcan", "resume", "power")]
    public void After_a_reset_the_modes_go_on_or_start_anew(string kind, string reset, string cause)
    {
        var (expected, _) = Check(kind, $"{{reset: {reset}}}", $"for: 10 s\nresets: {{at: 4001 ms, cause: {cause}}}", "");
        Assert.Equal(reset is "resume" && cause is "watchdog" ? [2_500_000, 4_001_000] : [2_500_000L, 6_501_000], expected.Modes.Select(m => m.AtUs));
    }

    [Theory]
    [InlineData("avr-mcp2515", "watchdog", "1601000 RunTime\n7001000 RunTime")]
    [InlineData("avr-mcp2515", "brown-out", "1601000 RunTime\n7001000 RunTime")]
    [InlineData("avr-mcp2515", "power", "1601000 RunTime\n8602000 RunTime")]
    [InlineData("stm32f103-bxcan", "watchdog", "1601000 RunTime\n7001000 RunTime")]
    [InlineData("stm32f103-bxcan", "brown-out", "1601000 RunTime\n7001000 RunTime")]
    [InlineData("stm32f103-bxcan", "power", "1601000 RunTime\n8602000 RunTime")]
    [Sampled("sam3x8e-can", "watchdog", "1601000 RunTime\n7001000 RunTime")]
    [Sampled("sam3x8e-can", "power", "1601000 RunTime\n8602000 RunTime")]
    [Sampled("rp2040-mcp2515", "watchdog", "1601000 RunTime\n7001000 RunTime")]
    public void Silence_for_good_ends_only_with_the_power(string kind, string cause, string silences) =>
        Check(kind, "{run at most: 1601 ms}", $"for: 18 s\nresets: {{at: 7001 ms, cause: {cause}}}", silences);

    // Above the warning limit the MCP2515's error flag cannot be cleared; the board must neither stay awake for it nor miss what comes after.
    [Fact]
    public void A_controller_in_trouble_lets_the_board_sleep()
    {
        const string Off = "for: 9 s\nbus off: {b: [4 s, 5 s, 6 s]}";
        string[] errors = ["--errors", "0=104@1000000", "--errors", "0=140@1500000", "--errors", "0=0@3000000"];
        var (plan, stimulus) = GuardedBoard.Avr.Load(Beat, Count, Off);
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus, errors);
        Latency.Check(plan, board.Simulate(stimulus), run, GuardedBoard.Avr.ToleranceUs);
        Assert.True(run.Output.Measures["sleep_share"] > 0.9, $"asleep for {run.Output.Measures["sleep_share"]}");
        using var awake = EmulatedBoard.Mutated(plan, "port/mcp2515_bus_off.c", "mcp2515_modify(bus, MCP_CANINTE, MCP_INT_ERROR, 0);", "");
        Assert.True(awake.Run(stimulus, errors).Output.Measures["sleep_share"] < 0.85);
        using var deaf = EmulatedBoard.Mutated(plan, "port/mcp2515_bus_off.c", "mcp2515_modify(bus, MCP_CANINTE, MCP_INT_ERROR, MCP_INT_ERROR);", "");
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() => Latency.Check(plan, board.Simulate(stimulus), deaf.Run(stimulus, errors), GuardedBoard.Avr.ToleranceUs));
    }

    // The simulator lets a frame on the wire go on (rule G9); a real controller is cut off in the middle, but for those of
    // the RP2040, which are not reset with it and go on until the program has started.
    [Theory]
    [InlineData("avr-mcp2515")]
    [InlineData("stm32f103-bxcan")]
    [Sampled("stm32f405-bxcan")]
    [Sampled("stm32g431-fdcan")]
    [Sampled("stm32h743-fdcan")]
    [Sampled("sam3x8e-can")]
    [Sampled("imxrt1062-flexcan")]
    public void A_reset_cuts_the_frame_on_the_wire(string kind)
    {
        var (plan, stimulus) = GuardedBoard.Of(kind).Load(Beat, "{}", "for: 5 s\nresets: {at: 4013150 us, cause: watchdog}");
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus);
        var cut = Assert.Single(run.Output.Frames, f => f.StartUs < 0 && run.Clock.Simulated(f.AcceptedUs) < 4_900_000);
        Assert.InRange(run.Clock.Simulated(cut.AcceptedUs), 4_013_000, 4_013_150);
        Assert.Empty(run.Output.Faults);
        // The others' error frame is over and the board sends again.
        Assert.Contains(run.Output.Frames, f => f.EndUs > 0 && run.Clock.Simulated(f.AcceptedUs) is > 4_016_000 and < 4_016_500);
    }

    // What each model is there for: the same firmware with one thing wrong.
    [Theory]
    [Sampled("avr-mcp2515", "{}", Foreign, "board_config.h", "0xC7, 0xEB, 0x12, 0x34", "0xC7, 0xEB, 0x12, 0x35")]
    [Sampled("avr-mcp2515", "{}", Foreign, "port/mcp2515_start.c", "(LOCUM_LISTENS ? MCP_INT_RX_ALL : 0u)", "0u")]
    [Sampled("avr-mcp2515", "{}", Foreign, "port/port.c", "silence << 1", "silence << 2")]
    [Sampled("avr-mcp2515", Count, BusOffs, "port/mcp2515_start.c", "LOCUM_GUARD_BUS_OFF ? MCP_INT_ERROR : 0u", "0u")]
    [Sampled("avr-mcp2515", Count, BusOffs, "port/mcp2515_bus_off.c", "#define LOOK_US 500u", "#define LOOK_US 50000u")]
    [Sampled("avr-mcp2515", Count, BusOffs, "port/mcp2515_bus_off.c", "mcp2515_reset(bus);", "")]
    [Sampled("avr-mcp2515", Count, BusOffs, "port/mcp2515_bus_off.c", "mcp2515_join(bus);", "")]
    [Sampled("avr-mcp2515", Count, BusOffs, "port/mcp2515_bus_off.c", "mcp2515_configure(bus);", "")]
    [Sampled("avr-mcp2515", Count, BusOffs, "port/mcp2515_bus_off.c", "mcp2515_forget(bus);", "")]
    [Sampled("avr-mcp2515", Count, BusOffs, "board_config.h", "BOARD_RECOVERY_US 2816u", "BOARD_RECOVERY_US 28u")]
    [Sampled("avr-mcp2515", Bench, Blocked, "port/port.c", "mcp2515_withdraw(bus);", "(void)bus;")]
    [Sampled("avr-mcp2515", Bench, Blocked, "port/mcp2515_registers.h", "#define MCP_TXREQ 0x08u", "#define MCP_TXREQ 0x04u")]
    [Sampled("avr-mcp2515", Resume, Watchdog, "port/port.c", "reset_flags = MCUSR;", "reset_flags = 0;")]
    [Sampled("avr-mcp2515", Resume, Watchdog, "port/port.c", "MCUSR = 0;", "")]
    [Sampled("avr-mcp2515", Resume, Watchdog, "core/locum_rom.h", "__attribute__((section(\".noinit\")))", "")]
    [Sampled("avr-mcp2515", Run, Watchdog, "core/locum_rom.h", "__attribute__((section(\".noinit\")))", "")]
    [Sampled("stm32f103-bxcan", "{}", Foreign, "board_config.h", "0xC7F891A4u", "0xC7F891ACu")]
    [Sampled("stm32f103-bxcan", "{}", Foreign, "port/port.c", "2u * silence", "4u * silence")]
    [Sampled("stm32f103-bxcan", Count, BusOffs, "port/can.c", "#define AFTER_BUS_OFF 0u", "#define AFTER_BUS_OFF CAN_MCR_ABOM")]
    [Sampled("stm32f103-bxcan", Count, BusOffs, "port/can.c", "(CAN_IER_ERRIE | CAN_IER_BOFIE)", "CAN_IER_ERRIE")]
    [Sampled("stm32f103-bxcan", Count, BusOffs, "port/can_bus_off.c", "CAN_MCR = CAN_MCR_INRQ;", "")]
    [Sampled("stm32f103-bxcan", Count, BusOffs, "port/can_bus_off.c", "CAN_MCR = 0;", "")]
    [Sampled("stm32f103-bxcan", Count, BusOffs, "port/can_bus_off.c", "went_off || (CAN_ESR & CAN_ESR_BOFF) == 0u", "false")]
    [Sampled("stm32f103-bxcan", Count, Twice, "port/can_bus_off.c", "if (restarted && (went_off || ", "if (restarted && (")]
    [Sampled("stm32f103-bxcan", Bench, Blocked, "port/port.c", "can_withdraw();", "")]
    [Sampled("stm32f103-bxcan", Bench, Blocked, "port/stm32f103_registers.h", "0x00808080u", "0x00800080u")]
    [Sampled("stm32f103-bxcan", Resume, Watchdog, "port/port.c", "reset_flags = RCC_CSR;", "reset_flags = 0;")]
    [Sampled("stm32f103-bxcan", Resume, Watchdog, "port/port.c", "RCC_CSR |= RCC_CSR_RMVF;", "")]
    [Sampled("stm32f103-bxcan", Resume, Watchdog, "core/locum_rom.h", "__attribute__((section(\".noinit\")))", "")]
    [Sampled("stm32f103-bxcan", Run, Watchdog, "core/locum_rom.h", "__attribute__((section(\".noinit\")))", "")]
    [Sampled("stm32f405-bxcan", Count, BusOffs, "port/can.c", "#define AFTER_BUS_OFF 0u", "#define AFTER_BUS_OFF BXCAN_MCR_ABOM")]
    [Sampled("stm32f405-bxcan", Count, BusOffs, "port/can_bus_off.c", "BXCAN_MCR(bus) = 0;", "")]
    [Sampled("stm32f405-bxcan", Bench, Blocked, "port/port.c", "can_withdraw(bus);", "(void)bus;")]
    [Sampled("stm32g431-fdcan", "{}", Foreign, "board_config.h", "0x38FF1234u, 0x58FF1234u", "0x38FF1235u, 0x58FF1235u")]
    [Sampled("stm32g431-fdcan", Count, BusOffs, "port/fdcan_registers.h", "#define FDCAN_IR_BO (1u << 19)", "#define FDCAN_IR_BO (1u << 18)")]
    [Sampled("stm32g431-fdcan", Count, BusOffs, "port/can_bus_off.c", "FDCAN_CCCR(bus) &= ~FDCAN_CCCR_INIT;", "(void)bus;")]
    [Sampled("stm32g431-fdcan", Count, BusOffs, "port/can_bus_off.c", "went_off || (FDCAN_PSR(bus) & FDCAN_PSR_BO) == 0u", "false")]
    [Sampled("stm32g431-fdcan", Bench, Blocked, "port/can.c", "FDCAN_TXBCR(bus) = FDCAN_TXBRP(bus);", "(void)bus;")]
    [Sampled("stm32g431-fdcan", Bench, Blocked, "port/fdcan_registers.h", "#define FDCAN_TXBCR(bus) FDCAN(bus, 0xD0u)", "#define FDCAN_TXBCR(bus) FDCAN(bus, 0xCCu)")]
    [Sampled("stm32g431-fdcan", Resume, Watchdog, "port/chip_registers.h", "#define RESET_BY_WATCHDOG (1u << 29)", "#define RESET_BY_WATCHDOG (1u << 28)")]
    [Sampled("stm32h743-fdcan", Resume, Watchdog, "port/chip_registers.h", "#define RESET_FLAGS_REMOVE (1u << 16)", "#define RESET_FLAGS_REMOVE (1u << 23)")]
    [Sampled("stm32h743-fdcan", Count, BusOffs, "port/fdcan_registers.h", "#define FDCAN_IR_BO (1u << 25)", "#define FDCAN_IR_BO (1u << 19)")]
    [Sampled("sam3x8e-can", "{}", Foreign, "board_config.h", "BOX(0x38FF1234u", "BOX(0x38FF1235u")]
    [Sampled("sam3x8e-can", "{}", Foreign, "port/cortexm_port.c", "2u * silence", "4u * silence")]
    [Sampled("sam3x8e-can", Count, BusOffs, "port/can.c", "#define ERROR_EVENTS CAN_SR_OFF", "#define ERROR_EVENTS 0u")]
    [Sampled("sam3x8e-can", Count, BusOffs, "port/can_bus_off.c", "can_leave(bus);", "")]
    [Sampled("sam3x8e-can", Count, BusOffs, "port/can_bus_off.c", "can_join(bus);", "")]
    [Sampled("sam3x8e-can", Count, BusOffs, "port/can_bus_off.c", "+ recovery_us[bus]", "+ recovery_us[bus] / 100u")]
    [Sampled("sam3x8e-can", Bench, Blocked, "port/cortexm_port.c", "can_withdraw(bus);", "(void)bus;")]
    [Sampled("sam3x8e-can", Bench, Blocked, "port/sam3x_registers.h", "#define CAN_MCR_ABORT (1u << 22)", "#define CAN_MCR_ABORT (1u << 21)")]
    [Sampled("sam3x8e-can", Resume, Watchdog, "port/sam3x_registers.h", "#define RSTC_TYPE_WATCHDOG (2u << 8)", "#define RSTC_TYPE_WATCHDOG (3u << 8)")]
    [Sampled("sam3x8e-can", Run, Watchdog, "core/locum_rom.h", "__attribute__((section(\".noinit\")))", "")]
    [Sampled("rp2040-mcp2515", Count, BusOffs, "port/can.c", "mcp2515_watch(timer_now());", "")]
    [Sampled("rp2040-mcp2515", Count, BusOffs, "port/can.c", "(void)mcp2515_watch_due(true, &until_us);", "")]
    [Sampled("rp2040-mcp2515", Bench, Blocked, "port/can.c", "mcp2515_withdraw(bus);", "(void)bus;")]
    [Sampled("rp2040-mcp2515", Resume, Watchdog, "port/rp2040_registers.h", "REGISTER(0x40058008u)", "REGISTER(0x4005802Cu)")]
    [Sampled("rp2040-mcp2515", Resume, Watchdog, "port/rp2040_registers.h", "#define WATCHDOG_REASON_ANY 3u", "#define WATCHDOG_REASON_ANY 2u")]
    [Sampled("rp2040-mcp2518fd", "{}", Foreign, "board_config.h", "0x5891A63Fu", "0x5891AE3Fu")]
    [Sampled("rp2040-mcp2518fd", Count, BusOffs, "port/mcp2518fd_start.c", "#define WAKES_FOR_ERRORS MCP_INT_CERRIF", "#define WAKES_FOR_ERRORS 0u")]
    [Sampled("rp2040-mcp2518fd", Count, BusOffs, "port/can_bus_off.c", "controller_configure(bus);", "")]
    [Sampled("rp2040-mcp2518fd", Count, BusOffs, "port/can_bus_off.c", "link_reset(bus);", "")]
    [Sampled("rp2040-mcp2518fd", Count, BusOffs, "port/can_bus_off.c", "states[bus] = OFF;", "(void)states;")]
    [Sampled("rp2040-mcp2518fd", Bench, Blocked, "port/can.c", "link_write_byte(bus, MCP_TXQCON + 1u, 0);", "")]
    [Sampled("imxrt1062-flexcan", "{}", Foreign, "board_config.h", "BOX(0x18FF1234u", "BOX(0x18FF1235u")]
    [Sampled("imxrt1062-flexcan", Count, BusOffs, "port/can.c", "FLEXCAN_CTRL1_BOFFREC | FLEXCAN_CTRL1_BOFFMSK", "FLEXCAN_CTRL1_BOFFREC")]
    [Sampled("imxrt1062-flexcan", Count, BusOffs, "port/can.c", "FLEXCAN_CTRL1_BOFFREC | FLEXCAN_CTRL1_BOFFMSK", "FLEXCAN_CTRL1_BOFFMSK")]
    [Sampled("imxrt1062-flexcan", Count, BusOffs, "port/can_bus_off.c", "FLEXCAN_CTRL1(buses[bus].controller) &= ~FLEXCAN_CTRL1_BOFFREC;", "")]
    [Sampled("imxrt1062-flexcan", Bench, Blocked, "port/cortexm_port.c", "can_withdraw(bus);", "(void)bus;")]
    [Sampled("imxrt1062-flexcan", Bench, Blocked, "port/flexcan_registers.h", "#define FLEXCAN_MCR_AEN (1u << 12)", "#define FLEXCAN_MCR_AEN 0u")]
    [Sampled("imxrt1062-flexcan", Resume, Watchdog, "port/imxrt_registers.h", "#define SRC_BY_WATCHDOG (1u << 4)", "#define SRC_BY_WATCHDOG (1u << 7)")]
    public void A_port_with_a_mistake_is_caught(string kind, string guards, string stimulus, string file, string right, string wrong)
    {
        var on = GuardedBoard.Of(kind);
        var (plan, when) = on.Load(Beat, guards, stimulus);
        using var board = EmulatedBoard.Mutated(plan, file, right, wrong);
        Assert.ThrowsAny<Xunit.Sdk.XunitException>(() => on.Check(board, plan, when));
    }

    private (Locum.Simulation.SimulationResult Expected, EmulatedRun Run) Check(string kind, string guards, string stimulus, string silences)
    {
        var on = GuardedBoard.Of(kind);
        var (plan, when) = on.Load(Beat, guards, stimulus);
        using var board = new EmulatedBoard(plan);
        var (expected, run, latency) = on.Check(board, plan, when);
        Assert.Equal(silences, string.Join('\n', expected.Silences.Select(s => $"{s.AtUs} {s.Reason}")));
        log.WriteLine($"{kind}: {latency.Compared} frames identical, at most {latency.WorstUs:0.0} us late");
        return (expected, run);
    }
}
