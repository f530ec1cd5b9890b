using Locum.Auditing;
using Locum.Rendering;
using Locum.Reporting;

namespace Locum.Pages;

/// <summary>What a receiver would object to in a capture.</summary>
internal sealed class AuditSection : ISection
{
    public string Id => "audit";

    public string Title => "Audit of a capture";

    public Html? Build(ReportSubject subject) => subject.Audit is not { } audit ? null : TemplateFactory.RenderHtml($"{ReportPage.Folder}audit.html.scriban", new
    {
        CaptureName = Path.GetFileName(audit.Capture),
        Extent = AuditWords.Extent(audit.Result),
        Buses = audit.Result.Buses.Select(AuditWords.Bus).ToList(),
        Sum = AuditWords.Sum(audit.Result),
        Findings = audit.Result.Findings.Select(f => new
        {
            Title = AuditWords.Title(f),
            f.Message,
            When = AuditWords.When(f, audit.Result.Parts),
            Times = Words.Count(f.Count, "time"),
            Complaint = AuditWords.Complaint(f),
            Complains = f.ComplainsUs is not null,
            Place = $"{Path.GetFileName(f.Span.File)}:{f.Span.Line}",
        }).ToList(),
        audit.Result.NotJudged,
        Tolerated = AuditWords.Tolerated(audit.Result.Tolerance),
        AuditWords.Assumed,
    });

    /// <summary>How many findings a typical receiver would complain about.</summary>
    public static string Complaints(AuditResult audit) =>
        $"{audit.Findings.Count(f => f.ComplainsUs is not null)} with a complaint of a typical receiver";
}
