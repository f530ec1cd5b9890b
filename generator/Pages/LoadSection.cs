using Locum.Budgeting;
using Locum.Rendering;
using Locum.Wire;

namespace Locum.Pages;

/// <summary>Load of each bus, response time of each frame beside its deadline, offsets.</summary>
internal sealed class LoadSection : ISection
{
    // The chart goes on a little behind the deadline, so that a late frame is seen as one.
    private const double ChartEnd = 1.25;

    // Longer tables are folded.
    private const int ManyRows = 30;

    public string Id => "load";

    public string Title => "Bus load and response times";

    public Html? Build(ReportSubject subject) => TemplateFactory.RenderHtml($"{ReportPage.Folder}load.html.scriban", new
    {
        Buses = subject.Budgets.Select(b => new
        {
            Title = BudgetWords.Title(b),
            Load = BudgetWords.Load(b),
            OwnMean = Percent(b.OwnMeanLoad),
            OtherMean = Percent(b.MeanLoad - b.OwnMeanLoad),
            Worst = Percent(b.WorstLoad),
            Knows = b.KnowsOthers,
            Many = b.Responses.Count > ManyRows,
            Rows = b.Responses.Select(r => Row(r)).ToList(),
        }).ToList(),
        Deadline = Percent(1 / ChartEnd),
        Offsets = subject.Budgets.SelectMany(b => b.Groups).Select(g => new
        {
            Says = BudgetWords.Offsets(g),
            Changes = g.Changes.Select(c => new { c.Frame.Sender, From = BudgetWords.Ms(c.Frame.Frame.OffsetUs), To = BudgetWords.Ms(c.OffsetUs) }).ToList(),
        }).ToList(),
        Notes = BudgetWords.Notes(subject.Budgets).ToList(),
    });

    private static object Row(Response response)
    {
        var cells = BudgetWords.Row(response);
        var used = response.WorstUs is { } worst ? (double)worst / response.Stream.DeadlineUs : ChartEnd;
        return new
        {
            Name = cells[0],
            Id = cells[1],
            Every = cells[2],
            Wire = cells[3],
            Within = cells[4],
            Deadline = cells[5],
            response.Meets,
            Other = response.Stream.Name.Length is 0,
            Used = response.WorstUs is null ? "no bound" : $"{used * 100:0} %",
            Bar = Percent(Math.Min(used / ChartEnd, 1)),
        };
    }

    private static string Percent(double share) => $"{Math.Clamp(share, 0, 1) * 100:0.##}%";
}
