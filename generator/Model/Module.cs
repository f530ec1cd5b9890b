using Locum.Text;

namespace Locum.Model;

/// <summary>What a removed module did, as its description says it.</summary>
public sealed record Module
{
    public required string Name { get; init; }

    public required string Summary { get; init; }

    public required Hazard Hazard { get; init; }

    /// <summary>The reviewer's reason for accepting the hazard; null when not given.</summary>
    public string? Acknowledge { get; init; }

    /// <summary>By when the first frame has to be on the bus; null: whenever.</summary>
    public FirstFrame? FirstFrame { get; init; }

    /// <summary>Path of the description as the user gave it.</summary>
    public required string Path { get; init; }

    /// <summary>SHA-256 of the description's text, lower-case hexadecimal.</summary>
    public required string Hash { get; init; }

    public required IReadOnlyList<Bus> Buses { get; init; }

    public required IReadOnlyList<Input> Inputs { get; init; }

    /// <summary>Pins that switch dummy loads and lines.</summary>
    public IReadOnlyList<Output> Outputs { get; init; } = [];

    /// <summary>Frames of other nodes that the module listens to.</summary>
    public required IReadOnlyList<ReceivedFrame> Receives { get; init; }

    /// <summary>The first is entered at power-on. Never empty.</summary>
    public required IReadOnlyList<Mode> Modes { get; init; }

    /// <summary>Shared counters first, then the fields' own ones.</summary>
    public required IReadOnlyList<Counter> Counters { get; init; }

    public required IReadOnlyList<Frame> Frames { get; init; }

    /// <summary>Channels on which the module answers testers; their answer frames are among <see cref="Frames"/>, their requests among <see cref="Receives"/>.</summary>
    public IReadOnlyList<Channel> Channels { get; init; } = [];

    /// <summary>Nodes of SAE J1939 that the module is; their rows are among <see cref="Frames"/>, what they hear among <see cref="Receives"/>.</summary>
    public IReadOnlyList<Node> Nodes { get; init; } = [];

    /// <summary>What is built around the board; null when nothing is said. No part of the firmware.</summary>
    public BenchSetup? Bench { get; init; }

    public required Span Span { get; init; }
}

/// <summary>How long others wait for the module.</summary>
/// <param name="WithinUs">From power-on to the end of the first frame, µs.</param>
public sealed record FirstFrame(long WithinUs, Span Span);

/// <summary>A bus the module was on.</summary>
/// <param name="Rate">bit/s.</param>
/// <param name="SamplePoint">Wanted sample point in permille of the bit.</param>
public sealed record Bus(string Name, int Rate, int SamplePoint, Span Span)
{
    /// <summary>Bit/s behind the switch of a CAN FD frame; null on a classic bus.</summary>
    public int? DataRate { get; init; }

    /// <summary>Wanted sample point at the data rate, permille.</summary>
    public int DataSamplePoint { get; init; }
}

/// <summary>A wired input.</summary>
/// <param name="ActiveHigh">True when the high level is the active one.</param>
/// <param name="DebounceUs">A level counts when it has been steady for this long, µs.</param>
public sealed record Input(string Name, InputKind Kind, bool ActiveHigh, long DebounceUs, Span Span);

public enum InputKind
{
    /// <summary>Tells the module to wake up; may wake a sleeping board.</summary>
    WakeLine,

    /// <summary>The switched supply of the module, sensed by a wire; may wake a sleeping board.</summary>
    Supply,

    /// <summary>Any other wire that modes depend on.</summary>
    Line,
}

/// <summary>Classes of work that can hurt someone.</summary>
public enum Hazard
{
    None,
    Restraint,
    Braking,
    Steering,
    Traction,
    HighVoltage,
}
