using Locum.Rendering;
using Locum.Reporting;

namespace Locum.Pages;

/// <summary>What the check says of the descriptions.</summary>
internal sealed class FindingSection : ISection
{
    public string Id => "check";

    public string Title => "What the check says";

    public Html? Build(ReportSubject subject) => subject.Findings.Count is 0 ? null : TemplateFactory.RenderHtml($"{ReportPage.Folder}findings.html.scriban", new
    {
        Findings = subject.Findings.Select(f => new { Severity = SeverityWords.Of(f.Severity), Code = f.Code.Id, f.Message, Mend = f.Mend ?? "", Place = $"{Path.GetFileName(f.Span.File)}:{f.Span.Line}" }).ToList(),
    });
}
