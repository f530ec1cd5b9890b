using Locum.Model;
using Locum.Rendering;
using Locum.Reviewing;
using Locum.Simulation;

namespace Locum.Pages;

/// <summary>Each frame: how it is sent, a map of its payload, its fields.</summary>
internal sealed class FrameSection : ISection
{
    // Up to so many frames stand open; more are a list to choose from.
    private const int MostOpen = 4;

    // More pages than these are left to the description.
    private const int MostMaps = 8;

    private static readonly string[] s_unsaid = ["none", "no event", "", "no limit"];

    public string Id => "frames";

    public string Title => "Frames and payloads";

    public Html? Build(ReportSubject subject)
    {
        var frames = subject.Frames.Where(f => !f.Planned.Frame.IsNode).ToList();
        if (frames.Count is 0)
            return null;
        var sent = subject.Result.Frames.Where(f => f.EndUs >= 0 && f.Sender.Length > 0).ToLookup(f => f.Sender, StringComparer.Ordinal);
        var evidence = new Evidence(subject.Sources);
        var number = 0;
        return TemplateFactory.RenderHtml($"{ReportPage.Folder}frames.html.scriban", new
        {
            FieldWords.Kinds,
            Open = frames.Count <= MostOpen,
            Many = frames.Count > MostOpen,
            Modules = frames.GroupBy(f => f.Planned.Owner).Select(g => new
            {
                g.Key.Module.Name,
                Frames = g.Select(f => View(f, ++number, sent[f.Planned.Sender].FirstOrDefault(), evidence)).ToList(),
            }).ToList(),
        });
    }

    private static object View(ReportFrame reported, int number, SentFrame? example, Evidence evidence)
    {
        var frame = reported.Planned.Frame;
        var scope = new Scope(reported.Planned.Owner.Module, new Dictionary<(string, string, string), string>());
        var numbers = Numbered(frame);
        var variants = frame.IsDescribed ? frame.Variants : [];
        var fields = frame.AllFields.Select(f => new
        {
            Number = numbers[f],
            f.Name,
            Kind = FieldWords.Kind(f.Source),
            Place = FieldWords.Place(f),
            Source = FieldWords.Source(f, frame, scope),
            Meaning = FieldWords.Meaning(f),
            Evidence = evidence.About(f.Span, f.Span.EndLine),
        }).ToList();
        return new
        {
            Number = number,
            frame.Name,
            Id = frame.Id.ToString(),
            reported.Bus,
            frame.Length,
            Sends = Sends(frame),
            Described = frame.IsDescribed,
            Facts = FrameFacts.Of(frame, scope).Facts.Where(f => f.Label is not "id" && !f.Label.StartsWith("base byte", StringComparison.Ordinal) && !s_unsaid.Contains(f.Value) && f is not { Label: "pages", Value: "0" } && f.Value != f.Usual).ToList(),
            Evidence = evidence.Within(frame.Span, frame.Fields.Select(f => f.Span.Line).DefaultIfEmpty(frame.Span.EndLine + 1).Min()),
            Example = example is null ? "" : $"{Say.Bytes(example.Data)} at {Say.Time(example.StartUs)}",
            Maps = variants.Take(MostMaps).Select((v, i) => new { Title = variants.Count > 1 ? $"payload {i + 1} of {variants.Count}" : "payload", Map = PayloadMap.Of(v, numbers) }).ToList(),
            LeftOut = Math.Max(0, variants.Count - MostMaps),
            HasEvidence = fields.Exists(f => f.Evidence.Length > 0),
            Fields = fields,
        };
    }

    // Fields of two pages may be equal in everything.
    private static Dictionary<Field, int> Numbered(Frame frame)
    {
        var numbers = new Dictionary<Field, int>(ReferenceEqualityComparer.Instance);
        foreach (var field in frame.AllFields)
            numbers[field] = numbers.Count + 1;
        return numbers;
    }

    private static string Sends(Frame frame) => (frame.IsCyclic, frame.Events) switch
    {
        _ when frame.IsAnswer => "answers testers",
        (true, null) => $"every {Say.Time(frame.PeriodUs)}",
        (true, _) => $"every {Say.Time(frame.PeriodUs)} and by events",
        _ => "by events",
    };
}
