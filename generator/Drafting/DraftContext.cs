using Locum.Inference;

namespace Locum.Drafting;

/// <summary>What the parts of a draft share while it is written.</summary>
internal sealed class DraftContext(ModuleFindings findings, DraftOptions options)
{
    private readonly List<Fact> _facts = [];
    private readonly List<Unexplained> _unexplained = [];

    /// <summary>What was found out.</summary>
    public ModuleFindings Findings { get; } = findings;

    /// <summary>What the user said.</summary>
    public DraftOptions Options { get; } = options;

    /// <summary>Names of the buses by number.</summary>
    public Dictionary<int, string> BusNames { get; } = [];

    /// <summary>Bit rates of the buses by number, bit/s.</summary>
    public Dictionary<int, int> Rates { get; } = [];

    /// <summary>Names of the frames, in the order of the findings.</summary>
    public List<string> FrameNames { get; } = [];

    /// <summary>Names of the stages; empty when there is one.</summary>
    public IReadOnlyList<string> Modes { get; set; } = [];

    /// <summary>Names of shared counters by frame and place.</summary>
    public Dictionary<(int Frame, FieldPlace Place), string> SharedCounters { get; } = [];

    /// <summary>Frames of other nodes that the module listens to.</summary>
    public ReceiveBook Receives { get; } = new();

    /// <summary>Everything written down so far.</summary>
    public IReadOnlyList<Fact> Facts => _facts;

    /// <summary>Everything left open so far.</summary>
    public IReadOnlyList<Unexplained> Unexplained => _unexplained;

    /// <summary>Notes a fact and gives its comment.</summary>
    public string Tell(Fact fact)
    {
        _facts.Add(fact);
        return fact.Comment;
    }

    /// <summary>Notes something left open.</summary>
    public void LeaveOpen(int frame, string bits, string why) =>
        _unexplained.Add(new Unexplained(FrameNames[frame], Findings.Frames[frame].Series.Id.ToString(), bits, why));
}
