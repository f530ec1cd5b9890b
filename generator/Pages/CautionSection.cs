using Locum.Model;
using Locum.Rendering;

namespace Locum.Pages;

/// <summary>Cautions of all classes of harm, and who accepted what.</summary>
internal sealed class CautionSection : ISection
{
    public string Id => "cautions";

    public string Title => "Cautions";

    public Html? Build(ReportSubject subject)
    {
        var hazards = subject.Modules.Select(m => m.Planned.Module.Hazard).Append(Hazard.None).Distinct().Order().Reverse();
        return TemplateFactory.RenderHtml($"{ReportPage.Folder}cautions.html.scriban", new
        {
            Lines = hazards.SelectMany(Cautions.For).Distinct().ToList(),
            Accepted = subject.Modules.Select(m => m.Planned.Module).Where(m => m.Hazard is not Hazard.None)
                .Select(m => new { m.Name, Hazard = Cautions.Word(m.Hazard), Reason = m.Acknowledge?.Trim() ?? "" }).ToList(),
        });
    }
}
