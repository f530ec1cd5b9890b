namespace Locum.Rendering.Views;

/// <summary>What templates see as their global object. Every number is final; names are C identifiers or comment-safe text.</summary>
public sealed record BoardView(
    NamedView Project,
    NamedView Generator,
    BoardFactsView Board,
    ConfigView Config,
    GuardsView Guards,
    IReadOnlyList<string> Banner,
    IReadOnlyList<string> CautionLines,
    IReadOnlyList<string> Sources,
    IReadOnlyList<BusView> Buses,
    IReadOnlyList<InputView> Inputs,
    PinView? Led,
    IReadOnlyList<ModuleView> Modules,
    IReadOnlyList<RowView> Rows,
    IReadOnlyList<ReceiveRowView> Receives,
    IReadOnlyList<EventRowView> Events,
    IReadOnlyList<TriggerView> Triggers,
    string ActiveLow)
{
    /// <summary>Buses whose controllers are the chip's, and those with one on SPI beside them.</summary>
    public IReadOnlyList<BusView> OnChip => [.. Buses.Where(b => !b.OnSpi)];

    public IReadOnlyList<BusView> OnSpi => [.. Buses.Where(b => b.OnSpi)];

    public IReadOnlyList<OutputView> Outputs { get; init; } = [];

    /// <summary>Outputs whose pin is low while they are on, as a C constant.</summary>
    public string OutputsLow { get; init; } = "0u";

    public IReadOnlyList<ChannelView> Channels { get; init; } = [];

    public IReadOnlyList<NodeView> Nodes { get; init; } = [];
}

/// <param name="Version">Version of the generator; empty for projects.</param>
public sealed record NamedView(string Name, string Version);

/// <param name="DataBytes">RAM for variables.</param>
/// <param name="Chip">The kind of board up to the first dash.</param>
/// <param name="Words">What the board's own templates say of it.</param>
public sealed record BoardFactsView(string Name, string Chip, long ClockHz, int Mailboxes, long FlashBytes, long DataBytes, long RamBytes, long StackBytes, IReadOnlyDictionary<string, string> Words);

/// <summary>What the core must be able to do for a board.</summary>
/// <param name="MaxLength">Data bytes of the longest frame that is sent or received.</param>
/// <param name="Receives">Frames that the board listens to.</param>
/// <param name="Events">Frames that events send.</param>
/// <param name="Triggers">Rows of the table of events.</param>
/// <param name="Periods">1 if a frame's period differs by mode.</param>
/// <param name="Live">1 if a field moves with its frame's releases.</param>
/// <param name="Bursts">1 if a frame begins with a burst.</param>
public sealed record ConfigView(int MaxLength, int Receives, int Events, int Triggers, int Periods, int Bursts, int Live)
{
    /// <summary>Pins that switch something.</summary>
    public int Outputs { get; init; }

    /// <summary>1 if a mode lasts longer than one lap of 2^30 µs.</summary>
    public int Laps { get; init; }

    /// <summary>1 if the controllers receive: for the modules, or to notice foreign senders.</summary>
    public int Listens { get; init; }

    /// <summary>Channels on which testers are answered.</summary>
    public int Channels { get; init; }

    /// <summary>1 if a channel sends CAN FD frames.</summary>
    public int ChannelFd { get; init; }

    /// <summary>1 if an answer takes longer than P2, or longer than others.</summary>
    public int ChannelSlow { get; init; }

    /// <summary>Bytes of the longest answer.</summary>
    public int AnswerBytes { get; init; }

    /// <summary>Nodes of SAE J1939.</summary>
    public int Nodes { get; init; }

    /// <summary>Parameter groups of the node with the most of them, at least 1.</summary>
    public int NodeAnswers { get; init; }

    /// <summary>1 if a node has an answer of more than one frame.</summary>
    public int NodeTransfers { get; init; }
}

/// <param name="DataRate">Bit/s behind the switch of a CAN FD frame; the bit rate itself on a classic bus.</param>
/// <param name="Registers">Register values by lower-case register name, as C constants.</param>
/// <param name="Timing">Bit timing in words; empty on the PC.</param>
/// <param name="Filters">Acceptance filter banks, the first first; empty when nothing is received or the controller has none.</param>
public sealed record BusView(
    int Index,
    string Name,
    int Rate,
    int DataRate,
    string SamplePoint,
    string Timing,
    IReadOnlyDictionary<string, string> Settings,
    IReadOnlyDictionary<string, string> Registers,
    IReadOnlyDictionary<string, PinView> Pins,
    IReadOnlyList<FilterBankView> Filters)
{
    /// <summary>Bit timing behind the switch of a CAN FD frame, in words; empty on a classic bus.</summary>
    public string DataTiming { get; init; } = "";

    /// <summary>Filter elements of an FDCAN controller as C constants: a word each for 11-bit identifiers, two for 29-bit ones.</summary>
    public IReadOnlyList<string> StandardFilters { get; init; } = [];

    public IReadOnlyList<FilterBankView> ExtendedFilters { get; init; } = [];

    /// <summary>Its controller is on SPI, on a board whose others are the chip's own.</summary>
    public bool OnSpi { get; init; }

    /// <summary>Time of the 128 times 11 bits after a bus-off, µs rounded up.</summary>
    public long RecoveryUs { get; init; }
}

/// <summary>A filter bank's two registers as C constants.</summary>
public sealed record FilterBankView(string R1, string R2);

/// <summary>A pin of the board.</summary>
public sealed record PinView(string Name, string PortLetter, int PortBit);

public sealed record InputView(int Index, string Name, string C, string Pin, string PortLetter, int PortBit, string Pull, string Active, long DebounceUs, string Debounce);

/// <summary>A row of the board's frame table.</summary>
public sealed record RowView(string Comment, string Id, long PeriodUs, long OffsetUs, string Modes, string Module, int Bus, int Length, string Compose, string Sent, string Skipped, string Started, string Periods, long BurstUs, int BurstCount, string Released);

/// <summary>A frame that events send.</summary>
public sealed record EventRowView(string Comment, long SpacingUs, long GapUs, int Repeat, int Row, string Changed);

/// <summary>Something that sends a frame.</summary>
public sealed record TriggerView(string Comment, long AfterUs, string Kind, string Module, int Index, int Event);
