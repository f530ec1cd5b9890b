using Locum.Inference;
using Locum.Model;

namespace Locum.Auditing;

/// <summary>Collects what the checks find, and what they could not judge.</summary>
internal sealed class Sink
{
    private readonly SortedSet<string> _notJudged = new(StringComparer.Ordinal);

    public List<Finding> Findings { get; } = [];

    public IReadOnlyCollection<string> NotJudged => _notJudged;

    public void Add(FindingKind kind, FrameTrack track, string message, long firstUs, long lastUs, int count, Text.Span? span = null, Confidence confidence = Confidence.Certain) =>
        Findings.Add(new Finding
        {
            Kind = kind,
            Module = track.Planned.Owner.Module.Name,
            Frame = track.Frame.Name,
            Id = track.Frame.Id.ToString(),
            Message = message,
            FirstUs = firstUs,
            LastUs = lastUs,
            Count = count,
            Span = span ?? track.Frame.Span,
            Confidence = confidence,
        });

    public void Add(FindingKind kind, Module module, string message, long firstUs, long lastUs, int count, Text.Span span, Confidence confidence = Confidence.Certain) =>
        Findings.Add(new Finding
        {
            Kind = kind,
            Module = module.Name,
            Frame = null,
            Id = null,
            Message = message,
            FirstUs = firstUs,
            LastUs = lastUs,
            Count = count,
            Span = span,
            Confidence = confidence,
        });

    public void Skip(string what) => _notJudged.Add(what);
}
