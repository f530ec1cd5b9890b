namespace Locum.Rendering.Views;

/// <summary>One module as its C file shows it.</summary>
public sealed record ModuleView(
    string Name,
    string C,
    string Upper,
    string File,
    IReadOnlyList<string> Banner,
    int Index,
    bool HasLaps,
    IReadOnlyList<ModeView> Modes,
    bool LooksAtInputs,
    bool HasExits,
    IReadOnlyList<InputView> UsedInputs,
    IReadOnlyList<ReaderView> Readers,
    IReadOnlyList<CounterView> Counters,
    IReadOnlyList<CrcTable> CrcTables,
    IReadOnlyList<CompositionView> Compositions,
    IReadOnlyList<FrameView> Frames)
{
    public IReadOnlyList<OutputView> Outputs { get; init; } = [];

    public bool HasLive => Frames.Any(f => f.Live.Count > 0);

    public bool HasFormulas => Compositions.Any(c => c.Writes.Any(w => w.Formula is not null));
}

public sealed record ModeView(string Name, string C, int Index, uint ForUs, int Laps, string Then, string ForText, IReadOnlyList<ExitView> Exits);

/// <param name="Condition">C expression over the locals named after inputs.</param>
public sealed record ExitView(string Condition, string Then);

/// <param name="Last">The value before the first one comes again.</param>
/// <param name="Sign">+ or -.</param>
/// <param name="Every">Frames for one step; empty for one.</param>
public sealed record CounterView(int Index, string Name, string C, string Type, string From, string To, string Last, string Step, string Sign, string Start, string Every);

/// <summary>What a frame needs besides its payload.</summary>
/// <param name="Pages">C names of the functions that compose its payloads in turn; empty when there is one payload.</param>
/// <param name="Periods">Period by mode; empty when there is one period.</param>
/// <param name="Changes">Fields whose change sends the frame.</param>
public sealed record FrameView(
    string Name,
    string C,
    string Comment,
    IReadOnlyList<string> Pages,
    int LastPage,
    bool HoldLastPage,
    IReadOnlyList<CounterView> Sent,
    IReadOnlyList<CounterView> Skipped,
    IReadOnlyList<CounterView> Started,
    IReadOnlyList<PageCountersView> PageCounters,
    IReadOnlyList<string> Periods,
    IReadOnlyList<WriteView> Changes,
    bool ChangesNeedMode,
    IReadOnlyList<LiveView> Live)
{
    /// <summary>True if something returns to its beginning when the frame starts.</summary>
    public bool Starts => Started.Count > 0 || Pages.Count > 0 || Live.Any(l => l.Noise is null);

    /// <summary>False where a channel or a node composes the payload and nothing is generated for it.</summary>
    public bool IsDescribed { get; init; }

    /// <summary>True if skipped releases move a counter.</summary>
    public bool Skips => Skipped.Count > 0 || PageCounters.Any(p => p.Skipped.Count > 0);
}

/// <summary>Counters that only one page carries.</summary>
public sealed record PageCountersView(int Page, IReadOnlyList<CounterView> Sent, IReadOnlyList<CounterView> Skipped);

/// <summary>A function that writes one payload.</summary>
public sealed record CompositionView(
    string C,
    bool IsPage,
    string Comment,
    int Length,
    IReadOnlyList<string> Base,
    IReadOnlyList<string> Constants,
    IReadOnlyList<WriteView> Writes,
    bool NeedsMode);

/// <summary>One field that is written at run time.</summary>
/// <param name="Kind">mode, follow, counter, formula or checksum.</param>
/// <param name="Cases">Values by mode.</param>
public sealed record WriteView(
    string Kind,
    string Comment,
    string C,
    string Type,
    IReadOnlyList<CaseView> Cases,
    string Counter,
    ChecksumView? Checksum,
    IReadOnlyList<Slice> Slices,
    FollowView? Follow = null)
{
    /// <summary>The steps of a formula, for the kind "formula".</summary>
    public FormulaView? Formula { get; init; }

    /// <summary>The variable is declared for the whole function, because a formula reads it.</summary>
    public bool Shared { get; init; }
}

/// <summary>A formula as C.</summary>
/// <param name="Lines">The value, of the field's type, broken into lines.</param>
/// <param name="There">Conditions that all must hold, or else the value is <paramref name="Lost"/>; empty when nothing is received.</param>
public sealed record FormulaView(IReadOnlyList<string> Lines, IReadOnlyList<string> There, string Lost, bool ReadsMode);

public sealed record CaseView(IReadOnlyList<string> Modes, string Value);

/// <summary>A checksum's steps.</summary>
/// <param name="Register">C type of the working register.</param>
/// <param name="Function">Core function that reads bytes; with a CRC its table comes first.</param>
/// <param name="Finish">C expression over "sum" for the result.</param>
public sealed record ChecksumView(string Register, string Function, string Table, string Start, IReadOnlyList<ReadView> Reads, IReadOnlyList<SecretView> Secrets, string Finish);

/// <summary>Bytes that a checksum reads: payload bytes from a place on, or the local array "extra".</summary>
public sealed record ReadView(string Bytes, int Count, IReadOnlyList<string> Extra);

public sealed record SecretView(string C, IReadOnlyList<string> Bytes);

/// <summary>How a followed value is computed: exact = reader · Numerator + Addend, divided with rounding, kept within limits.</summary>
/// <param name="Type">C type that holds every intermediate value.</param>
/// <param name="Expression">The value before the division.</param>
/// <param name="Denominator">Empty when there is no division.</param>
/// <param name="Low">Lower limit; empty when the value cannot be below it.</param>
/// <param name="High">Upper limit; empty when the value cannot be above it.</param>
public sealed record FollowView(string There, string Type, string Expression, string Denominator, string Half, string Low, string High, string Lost);
