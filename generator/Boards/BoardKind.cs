namespace Locum.Boards;

/// <summary>What is known about a kind of board; read from its folder under templates/boards.</summary>
public sealed record BoardKind
{
    /// <summary>The word that project.yaml uses; the folder's name.</summary>
    public required string Name { get; init; }

    public required string Summary { get; init; }

    /// <summary>Core clock in Hz; 0 where it has no meaning.</summary>
    public required long ClockHz { get; init; }

    public required int Controllers { get; init; }

    /// <summary>Transmit mailboxes of each controller.</summary>
    public required int Mailboxes { get; init; }

    /// <summary>True when the controllers can do CAN FD.</summary>
    public required bool Fd { get; init; }

    /// <summary>Which register layout the controllers have: none, mcp2515, mcp2518fd, bxcan, fdcan, flexcan, sam3x, twai, socketcan, or own.</summary>
    public required string ControllerKind { get; init; }

    /// <summary>The register layout of those controllers that do CAN FD, where it is another one; empty elsewhere.</summary>
    public string FdControllerKind { get; init; } = "";

    /// <summary>The controllers that do CAN FD, by the words of the setting 'controller'; empty when all are alike.</summary>
    public IReadOnlyList<string> FdControllers { get; init; } = [];

    /// <summary>The register layout of controllers on SPI beside those of the chip; empty where there are none.</summary>
    public string SpiControllerKind { get; init; } = "";

    /// <summary>The controllers on SPI, by the words of the setting 'controller'.</summary>
    public IReadOnlyList<string> SpiControllers { get; init; } = [];

    /// <summary>A controller, by its word, which is empty when all are alike, is on SPI beside those of the chip.</summary>
    public bool IsOnSpi(string controller) => SpiControllers.Contains(controller);

    /// <summary>The register layout of a controller by its word.</summary>
    public string KindOf(string controller) => IsOnSpi(controller) ? SpiControllerKind : ControllerKind;

    /// <summary>The word of the bit timing of a bus.</summary>
    public string TimingKind(string controller, bool fd) => fd && FdControllerKind.Length > 0 ? FdControllerKind : KindOf(controller);

    /// <summary>Clock that the bit timing is divided from, Hz; 0 when a setting of the bus gives it (crystal).</summary>
    public required long ControllerClockHz { get; init; }

    public required long FlashBytes { get; init; }

    public required long RamBytes { get; init; }

    /// <summary>Bytes of RAM that are left to the stack.</summary>
    public required long StackBytes { get; init; }

    /// <summary>Bytes of RAM for variables.</summary>
    public long DataBytes => RamBytes - StackBytes;

    public required string SupplyFrom { get; init; }

    public required string SupplyTo { get; init; }

    /// <summary>Power to first instruction, without and with the usual bootloader, µs.</summary>
    public required long StartBareUs { get; init; }

    public required long StartBootloaderUs { get; init; }

    /// <summary>From a release to the frame's offer to its controller, at most, µs; 0 where it has no meaning.</summary>
    public long ReleaseWithinUs { get; init; }

    /// <summary>Free pins: name on the board → port pin ("D3" → "PD3").</summary>
    public required IReadOnlyDictionary<string, string> Pins { get; init; }

    /// <summary>Pins with a fixed job, and the job.</summary>
    public required IReadOnlyDictionary<string, string> Reserved { get; init; }

    /// <summary>Settings used when project.yaml is silent: one list per setting, one entry per bus (the last repeats).</summary>
    public required IReadOnlyDictionary<string, IReadOnlyList<string>> Defaults { get; init; }

    /// <summary>The words a setting of a bus may have, for settings with a fixed choice; "pins 2" holds for the second bus alone.</summary>
    public required IReadOnlyDictionary<string, IReadOnlyList<string>> Choices { get; init; }

    /// <summary>What an input can be pulled to: none, up, down.</summary>
    public required IReadOnlyList<string> Pulls { get; init; }

    /// <summary>Words for the board's templates, such as the chip's name.</summary>
    public required IReadOnlyDictionary<string, string> Words { get; init; }

    /// <summary>
    /// C sources to compile, headers and other files to copy, templates to render: names in the board's folder, or
    /// FOLDER/NAME in one that several boards share or that is another board's.
    /// </summary>
    public required IReadOnlyList<string> Files { get; init; }

    public required IReadOnlyList<string> Headers { get; init; }

    /// <summary>C sources and headers for plans that use a controller on SPI.</summary>
    public IReadOnlyList<string> SpiFiles { get; init; } = [];

    public IReadOnlyList<string> SpiHeaders { get; init; } = [];

    public required IReadOnlyList<string> Extras { get; init; }

    public required IReadOnlyList<string> Templates { get; init; }

    /// <summary>Names of the pins that have no fixed job.</summary>
    public IReadOnlyList<string> FreePins => [.. Pins.Keys.Where(p => !Reserved.ContainsKey(p))];

    /// <summary>The words a setting may have on the n-th bus; null when it has no fixed choice.</summary>
    public IReadOnlyList<string>? Choice(string setting, int index) =>
        Choices.GetValueOrDefault($"{setting} {index + 1}") ?? Choices.GetValueOrDefault(setting);

    /// <summary>A setting's default for the n-th bus or input; empty when there is none.</summary>
    public string Default(string setting, int index) =>
        Defaults.TryGetValue(setting, out var values) && values.Count > 0 ? values[Math.Min(index, values.Count - 1)] : "";
}
