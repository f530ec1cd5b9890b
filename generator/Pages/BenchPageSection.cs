using Locum.Benching;
using Locum.Rendering;

namespace Locum.Pages;

/// <summary>The bench sheet of each module: resistors, loads, supply, bus wiring, connector, parts.</summary>
internal sealed class BenchPageSection : ISection
{
    public string Id => "bench";

    public string Title => "Bench sheet";

    public Html? Build(ReportSubject subject) => TemplateFactory.RenderHtml($"{ReportPage.Folder}bench.html.scriban", new
    {
        Sheets = subject.Modules.Select(m => Bench.Of(m.Planned.Module)).Select(s => new
        {
            s.Module,
            s.Cautions,
            s.Problems,
            s.Missing,
            Tables = s.Tables.Select(Table).ToList(),
        }).ToList(),
        General = Bench.General.Select(Table).ToList(),
    });

    private static object Table(BenchTable table) => new
    {
        table.Title,
        Columns = table.Columns.Select((c, i) => new { Text = c, Number = table.Rows.Any(r => r[i].Value is not null) }).ToList(),
        table.Notes,
        Rows = table.Rows.Select(row => row.Select(c => new { c.Text, Number = c.Value is not null }).ToList()).ToList(),
    };
}
