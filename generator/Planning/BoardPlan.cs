using Locum.Boards;
using Locum.Model;
using Locum.Wire;

namespace Locum.Planning;

/// <summary>Everything that runs on one board, with buses, inputs and frames of all its modules joined.</summary>
public sealed record BoardPlan
{
    public required string Name { get; init; }

    public required BoardKind Kind { get; init; }

    public required IReadOnlyList<PlannedBus> Buses { get; init; }

    public required IReadOnlyList<PlannedInput> Inputs { get; init; }

    /// <summary>Outputs of all modules, in their order.</summary>
    public IReadOnlyList<PlannedOutput> Outputs { get; init; } = [];

    public required IReadOnlyList<PlannedModule> Modules { get; init; }

    /// <summary>By bus, then in arbitration order: the order in which frames of one instant are offered.</summary>
    public required IReadOnlyList<PlannedFrame> Frames { get; init; }

    public required PlannedPin? Led { get; init; }

    public PlannedGuards Guards { get; init; } = PlannedGuards.None;

    /// <summary>The harm classes of the board's modules, worst kept apart: every one is repeated in outputs.</summary>
    public IReadOnlyList<string> Cautions =>
        [.. Modules.Select(m => m.Module.Hazard).Distinct().Order().Reverse().SelectMany(Model.Cautions.For).Distinct()];
}

/// <summary>A bus of a board with its controller.</summary>
/// <param name="Timing">Bit timing on this board; null on the PC.</param>
/// <param name="Settings">Words for the board's templates.</param>
/// <param name="Pins">Pins by setting name.</param>
public sealed record PlannedBus(int Index, string Name, int Rate, int SamplePoint, BitTiming? Timing, IReadOnlyDictionary<string, string> Settings, IReadOnlyDictionary<string, PlannedPin> Pins)
{
    /// <summary>Its controller's word on boards whose controllers are not alike; empty elsewhere.</summary>
    public string Controller => Settings.GetValueOrDefault(ControllerPlanner.Setting, "");

    /// <summary>The register layout of its controller (<see cref="BoardKind.ControllerKind"/>).</summary>
    public required string ControllerKind { get; init; }

    /// <summary>Bit/s behind the switch of a CAN FD frame; null on a classic bus.</summary>
    public int? DataRate { get; init; }

    /// <summary>Wanted sample point of the data phase, permille.</summary>
    public int DataSamplePoint { get; init; }

    /// <summary>Timing of both phases with what it asks of clocks; null on the PC.</summary>
    public TimingChoice? Choice { get; init; }
}

/// <summary>An input of a board.</summary>
public sealed record PlannedInput(int Index, string Name, bool ActiveHigh, long DebounceUs, PlannedPin? Pin, string Pull);

/// <summary>An output of a board.</summary>
/// <param name="ReadBack">The board's index of the input on the same wire; null: none.</param>
public sealed record PlannedOutput(int Index, Output Output, PlannedModule Owner, PlannedPin? Pin, int? ReadBack);

/// <summary>The guards of a board.</summary>
/// <param name="Foreign">A foreign sender silences the board.</param>
/// <param name="EnableInput">The board's index of the input without which it is silent; null: none.</param>
/// <param name="Keeps">Silence for good outlives a watchdog or brown-out reset.</param>
/// <param name="Resumes">Modes outlive a watchdog reset.</param>
public sealed record PlannedGuards(bool Foreign, BusOffGuard? BusOff, int? EnableInput, long? RunAtMostUs, bool Keeps, bool Resumes)
{
    public static PlannedGuards None { get; } = new(false, null, null, null, false, false);

    /// <summary>Null when the board has no outputs.</summary>
    public BrownOutGuard? BrownOuts { get; init; }

    public bool Any => Foreign || BusOff is not null || EnableInput is not null || RunAtMostUs is not null || Keeps;
}

/// <summary>A pin: its name on the board and the port pin behind it ("D3", "PD3").</summary>
public sealed record PlannedPin(string Name, string PortPin);

/// <summary>A module on a board.</summary>
/// <param name="Buses">The board's bus index for each bus of the module.</param>
/// <param name="Inputs">The board's input index for each input of the module.</param>
public sealed record PlannedModule(int Index, Module Module, IReadOnlyList<int> Buses, IReadOnlyList<int> Inputs);

/// <summary>A frame of a board.</summary>
/// <param name="Row">Its place in the board's table.</param>
/// <param name="Bus">Index of the board's bus.</param>
/// <param name="IndexInModule">Its place in the module's list of frames.</param>
public sealed record PlannedFrame(int Row, int Bus, PlannedModule Owner, Frame Frame, int IndexInModule)
{
    public string Sender => $"{Owner.Module.Name}.{Frame.Name}";
}
