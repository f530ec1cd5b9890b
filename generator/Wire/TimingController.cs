namespace Locum.Wire;

/// <summary>The bit timing of a family of controllers: what it can hold, and the register words.</summary>
public sealed record TimingController
{
    /// <summary>The word of board.yaml.</summary>
    public required string Name { get; init; }

    public required string Summary { get; init; }

    /// <summary>What is to be given as the controller's clock.</summary>
    public required string ClockName { get; init; }

    /// <summary>Limits of the arbitration phase by that clock, Hz.</summary>
    public required Func<long, BitTimingLimits> Limits { get; init; }

    /// <summary>Limits of the data phase; null for a classic controller.</summary>
    public Func<long, BitTimingLimits>? DataLimits { get; init; }

    public CompensationLimits? Compensation { get; init; }

    /// <summary>The registers of a choice.</summary>
    public required Func<TimingChoice, IReadOnlyList<RegisterWord>> Encode { get; init; }

    public bool Fd => DataLimits is not null;

    /// <summary>All families.</summary>
    public static IReadOnlyList<TimingController> All { get; } =
    [
        new()
        {
            Name = "mcp2515",
            Summary = "MCP2515-class SPI controller",
            ClockName = "crystal",
            Limits = Mcp2515Registers.Limits,
            Encode = c =>
            {
                var words = Mcp2515Registers.Encode(c.Nominal);
                return [new("CNF1", words.Cnf1, 8), new("CNF2", words.Cnf2, 8), new("CNF3", words.Cnf3, 8)];
            },
        },
        new() { Name = "bxcan", Summary = "bxCAN of STM32", ClockName = "APB1 clock", Limits = BxCanRegisters.Limits, Encode = c => [new("BTR", BxCanRegisters.Encode(c.Nominal), 32)] },
        new()
        {
            Name = "twai",
            Summary = "TWAI of the ESP32 family",
            ClockName = "APB clock",
            Limits = TwaiRegisters.Limits,
            Encode = c =>
            {
                var words = TwaiRegisters.Encode(c.Nominal);
                return [new("BUS_TIMING_0", words.Timing0, 32), new("BUS_TIMING_1", words.Timing1, 32)];
            },
        },
        new() { Name = "sam3x", Summary = "CAN of SAM3X", ClockName = "master clock", Limits = Sam3xCanRegisters.Limits, Encode = c => [new("CAN_BR", Sam3xCanRegisters.Encode(c.Nominal), 32)] },
        new() { Name = "flexcan", Summary = "FlexCAN, classic", ClockName = "protocol engine clock", Limits = FlexCanRegisters.Limits, Encode = c => [new("CTRL1", FlexCanRegisters.Encode(c.Nominal), 32)] },
        new()
        {
            Name = "flexcan-fd",
            Summary = "FlexCAN with CAN FD",
            ClockName = "protocol engine clock",
            Limits = FlexCanFdRegisters.Limits,
            DataLimits = FlexCanFdRegisters.DataLimits,
            Compensation = FlexCanFdRegisters.Compensation,
            Encode = c => Words(c, new("CBT", FlexCanFdRegisters.Encode(c.Nominal), 32),
                d => [new("FDCBT", FlexCanFdRegisters.EncodeData(d), 32), new("FDCTRL", FlexCanFdRegisters.EncodeCompensation(c.Compensation), 32)]),
        },
        new()
        {
            Name = "fdcan",
            Summary = "M_CAN, FDCAN of STM32",
            ClockName = "kernel clock",
            Limits = FdCanRegisters.Limits,
            DataLimits = FdCanRegisters.DataLimits,
            Compensation = FdCanRegisters.Compensation,
            Encode = c => Words(c, new("NBTP", FdCanRegisters.Encode(c.Nominal), 32),
                d => [new("DBTP", FdCanRegisters.EncodeData(d, c.Compensation), 32), new("TDCR", FdCanRegisters.EncodeCompensation(c.Compensation), 32)]),
        },
        new()
        {
            Name = "mcp2518fd",
            Summary = "MCP2518FD-class SPI controller",
            ClockName = "system clock",
            Limits = Mcp2518FdRegisters.Limits,
            DataLimits = Mcp2518FdRegisters.DataLimits,
            Compensation = Mcp2518FdRegisters.Compensation,
            Encode = c => Words(c, new("CiNBTCFG", Mcp2518FdRegisters.Encode(c.Nominal), 32),
                d => [new("CiDBTCFG", Mcp2518FdRegisters.EncodeData(d), 32), new("CiTDC", Mcp2518FdRegisters.EncodeCompensation(c.Compensation), 32)]),
        },
    ];

    /// <summary>A family by its word; null when there is none.</summary>
    public static TimingController? Find(string name) => All.FirstOrDefault(c => c.Name == name);

    private static IReadOnlyList<RegisterWord> Words(TimingChoice choice, RegisterWord nominal, Func<BitTiming, IReadOnlyList<RegisterWord>> data) =>
        choice.Data is { } timing ? [nominal, .. data(timing)] : [nominal];
}
