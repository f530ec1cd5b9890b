using Locum.Planning;
using Locum.Rendering;
using Locum.Reviewing;

namespace Locum.Pages;

/// <summary>The boards: chip, buses with their bit timing, pins, guards.</summary>
internal sealed class BoardSection : ISection
{
    private static readonly string[] s_off = ["no guard", "no limit", "no"];

    public string Id => "boards";

    public string Title => "Boards";

    public Html? Build(ReportSubject subject) => TemplateFactory.RenderHtml($"{ReportPage.Folder}boards.html.scriban", new
    {
        Boards = subject.Plans.Select(p => new
        {
            p.Name,
            Kind = p.Kind.Name,
            p.Kind.Summary,
            Facts = Facts(p).ToList(),
            Buses = p.Buses.Select(Bus).ToList(),
            Pins = Pins(p).ToList(),
            Guards = subject.Project.Boards.Where(b => b.Name == p.Name).SelectMany(b => GuardFacts.Of(b.Guards)).Where(f => !s_off.Contains(f.Value)).Select(f => new Pair(f.Label, f.Value)).ToList(),
        }).ToList(),
    });

    private static IEnumerable<Pair> Facts(BoardPlan plan)
    {
        var kind = plan.Kind;
        yield return new("modules", string.Join(", ", plan.Modules.Select(m => m.Module.Name)));
        if (kind.ClockHz > 0)
            yield return new("clock", $"{kind.ClockHz / 1e6:0.###} MHz");
        if (kind.FlashBytes > 0)
            yield return new("flash and RAM", $"{kind.FlashBytes / 1024} and {kind.RamBytes / 1024} KiB");
        if (kind.SupplyFrom.Length > 0)
            yield return new("supply", $"{kind.SupplyFrom} to {kind.SupplyTo}");
        if (kind.StartBareUs > 0)
            yield return new("from power to first instruction", $"{Say.Time(kind.StartBareUs)}, with the usual bootloader {Say.Time(kind.StartBootloaderUs)}");
        yield return new("mailboxes of a controller", $"{kind.Mailboxes}");
    }

    private static object Bus(PlannedBus bus) => new
    {
        bus.Name,
        Rate = Say.Rate(bus.Rate) + (bus.DataRate is { } fast ? $", data {Say.Rate(fast)}" : ""),
        Sample = bus.Timing is { } timing ? Say.Permille((int)Math.Round(timing.SamplePointPermille)) : Say.Permille(bus.SamplePoint),
        Settings = string.Join(", ", bus.Settings.OrderBy(s => s.Key, StringComparer.Ordinal).Select(s => $"{s.Key} {s.Value}")),
    };

    private static IEnumerable<object> Pins(BoardPlan plan)
    {
        foreach (var input in plan.Inputs)
            if (input.Pin is { } pin)
                yield return new { Pin = Pin(pin), Job = $"input {input.Name}", Detail = $"active {(input.ActiveHigh ? "high" : "low")}, debounce {Say.Time(input.DebounceUs)}, pull {input.Pull}" };
        foreach (var output in plan.Outputs)
            if (output.Pin is { } pin)
                yield return new { Pin = Pin(pin), Job = $"output {output.Output.Name}", Detail = $"on when {(output.Output.ActiveHigh ? "high" : "low")}" };
        foreach (var bus in plan.Buses)
            foreach (var (job, pin) in bus.Pins.OrderBy(p => p.Key, StringComparer.Ordinal))
                yield return new { Pin = Pin(pin), Job = $"bus {bus.Name}", Detail = job };
        if (plan.Led is { } led)
            yield return new { Pin = Pin(led), Job = "LED", Detail = "flashes say why the board is silent" };
    }

    private static string Pin(PlannedPin pin) => pin.Name == pin.PortPin ? pin.Name : $"{pin.Name} ({pin.PortPin})";
}

/// <summary>A word and what it is here.</summary>
internal sealed record Pair(string Label, string Value);
