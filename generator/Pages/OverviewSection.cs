using Locum.Budgeting;
using Locum.Model;
using Locum.Rendering;
using Locum.Reporting;

namespace Locum.Pages;

/// <summary>What stands in for what, and the figures that matter most.</summary>
internal sealed class OverviewSection : ISection
{
    public string Id => "overview";

    public string Title => "What stands in for what";

    public Html? Build(ReportSubject subject) => TemplateFactory.RenderHtml($"{ReportPage.Folder}overview.html.scriban", new
    {
        Figures = Figures(subject).ToList(),
        Map = StandInMap.Of(subject),
        Modules = subject.Modules.Select(m => new
        {
            Board = m.Plan.Name,
            Kind = m.Plan.Kind.Name,
            m.Planned.Module.Name,
            m.Planned.Module.Summary,
            Hazard = m.Planned.Module.Hazard is Hazard.None ? "" : Cautions.Word(m.Planned.Module.Hazard),
            Buses = string.Join(", ", m.Planned.Module.Buses.Select(b => b.Name)),
            Inputs = string.Join(", ", m.Planned.Module.Inputs.Select(i => i.Name)),
            Sends = m.Planned.Module.Frames.Count,
            Hears = m.Planned.Module.Receives.Count,
        }).ToList(),
    });

    private static IEnumerable<Figure> Figures(ReportSubject subject)
    {
        var modules = subject.Modules.ToList();
        yield return new($"{modules.Count}", modules.Count is 1 ? "module" : "modules", $"on {Words.Count(subject.Plans.Count, "board")}");
        var frames = subject.Frames.Count();
        yield return new($"{frames}", frames is 1 ? "frame" : "frames", $"on {string.Join(", ", subject.Budgets.Select(b => b.Name))}");
        if (subject.Budgets.MaxBy(b => b.WorstLoad) is { } busiest)
            yield return new(Share(busiest.WorstLoad), $"load of bus {busiest.Name}", busiest.KnowsOthers ? "at worst, other nodes included" : "at worst, these boards alone");
        if (subject.Budgets.SelectMany(b => b.Responses).Where(r => r.WorstUs is not null).MaxBy(Used) is { } tightest)
            yield return new(Share(Used(tightest)), "of its deadline used", $"by {BudgetWords.Name(tightest.Stream)}, the tightest frame");
        var late = subject.Budgets.SelectMany(b => b.Responses).Count(r => !r.Meets);
        if (late > 0)
            yield return new($"{late}", "may be late", "see bus load and response times") { Bad = true };
        if (subject.Audit is { Result: { } audit })
            yield return new($"{audit.Findings.Count}", audit.Findings.Count is 1 ? "audit finding" : "audit findings", AuditSection.Complaints(audit)) { Bad = audit.Findings.Count > 0 };
    }

    private static double Used(Response response) => (double)(response.WorstUs ?? 0) / response.Stream.DeadlineUs;

    private static string Share(double share) => $"{share * 100:0.0} %";
}

/// <summary>A number that is shown large.</summary>
internal sealed record Figure(string Number, string What, string Detail)
{
    public bool Bad { get; init; }
}
