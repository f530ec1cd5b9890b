using System.Security.Cryptography;
using System.Text;
using Locum.Model;
using Locum.Rendering;
using Locum.Text;

namespace Locum.Pages;

/// <summary>A report as one HTML file that needs no other: same subject, same bytes.</summary>
public static class ReportPage
{
    /// <summary>Templates and built-in files of the page.</summary>
    internal const string Folder = "templates/report/";

    // In the order of the page; a new section is a new line.
    private static readonly ISection[] s_sections =
    [
        new CautionSection(),
        new OverviewSection(),
        new TimelineSection(),
        new FrameSection(),
        new ModeSection(),
        new LoadSection(),
        new AuditSection(),
        new FindingSection(),
        new BoardSection(),
        new BenchPageSection(),
        new SourceSection(),
    ];

    public static string Render(ReportSubject subject)
    {
        var style = Resources.Text($"{Folder}report.css");
        var script = Resources.Text($"{Folder}report.js");
        return TemplateFactory.RenderHtml($"{Folder}page.html.scriban", new
        {
            subject.Title,
            Summary = subject.Project.Summary,
            subject.Version,
            Style = new Html(style),
            Script = new Html(script),
            StyleHash = Hash(style),
            ScriptHash = Hash(script),
            Hazards = subject.Modules.Select(m => m.Planned.Module.Hazard).Where(h => h is not Hazard.None).Distinct().Order().Reverse().Select(Cautions.Word).ToList(),
            Sections = s_sections.Select(s => new { s.Id, s.Title, Body = s.Build(subject) }).Where(s => s.Body is not null).ToList(),
        }).Text;
    }

    // What the page's security policy lets run: exactly these two texts.
    private static string Hash(string text) => $"sha256-{Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(text)))}";
}
