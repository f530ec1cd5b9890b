using Locum.Rendering;

namespace Locum.Pages;

/// <summary>The modes of each module that has more than one, drawn and as a table.</summary>
internal sealed class ModeSection : ISection
{
    public string Id => "modes";

    public string Title => "Modes";

    public Html? Build(ReportSubject subject)
    {
        var modules = subject.Modules.Select(m => m.Planned.Module).Where(m => m.Modes.Count > 1).ToList();
        return modules.Count is 0 ? null : TemplateFactory.RenderHtml($"{ReportPage.Folder}modes.html.scriban", new
        {
            Modules = modules.Select((m, i) => new { Number = i + 1, m.Name, Diagram = ModeDiagram.Of(m) }).ToList(),
        });
    }
}
