using Locum.Boards;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Text;

namespace Locum.Planning;

/// <summary>Joins the modules' buses and gives each a controller.</summary>
internal static class BusPlanner
{
    public static List<PlannedBus> Plan(BoardUse use, BoardKind kind, PinMap pins, DiagnosticBag diagnostics)
    {
        var joined = new List<Bus>();
        foreach (var bus in use.Modules.SelectMany(m => m.Buses))
        {
            if (joined.Find(b => b.Name == bus.Name) is not { } known)
                joined.Add(bus);
            else if (known.DataRate != bus.DataRate || (bus.DataRate is not null && known.DataSamplePoint != bus.DataSamplePoint))
                diagnostics.Add(Codes.BusMismatch, bus.Span, $"'{bus.Name}' has {DataPhase(bus)} here, {DataPhase(known)} in another module", "give both the same settings, or different names", known.Span);
            else if (known.Rate != bus.Rate || known.SamplePoint != bus.SamplePoint)
                diagnostics.Add(Codes.BusMismatch, bus.Span, $"'{bus.Name}' runs at {bus.Rate} bit/s and {bus.SamplePoint / 10.0} % here, at {known.Rate} bit/s and {known.SamplePoint / 10.0} % in another module", "give both the same settings, or different names", known.Span);
        }
        if (joined.Count > kind.Controllers)
            diagnostics.Add(Codes.TooManyBuses, joined[kind.Controllers].Span, $"{kind.Name} has {kind.Controllers} controller{(kind.Controllers is 1 ? "" : "s")}, the modules need {joined.Count} buses", "use a board with more controllers, or two boards");
        foreach (var name in use.BusSettings.Keys.Where(n => joined.All(b => b.Name != n)))
            diagnostics.Add(Codes.UnknownBus, use.BusSettings[name].Values.Select(s => s.Span).FirstOrDefault(use.Span), $"no module of this board has a bus '{Printable.Short(name)}'", Nearest.Mend(name, [.. joined.Select(b => b.Name)], "bus"));
        foreach (var bus in joined.Where(b => b.DataRate is not null && !kind.Fd))
            diagnostics.Add(Codes.NoFd, bus.Span, $"'{bus.Name}' carries CAN FD, which {kind.Name} cannot send or tolerate", "use a board whose controller does CAN FD ('locum boards')");
        var controllers = ControllerPlanner.Assign(joined, use, kind, diagnostics);
        var planned = joined.Select((bus, i) => PlanOne(bus, i, use, kind, pins, controllers.GetValueOrDefault(bus.Name, ""), diagnostics)).ToList();
        CheckInterfaces(planned, use, diagnostics);
        return planned;
    }

    private static void CheckInterfaces(List<PlannedBus> buses, BoardUse use, DiagnosticBag diagnostics)
    {
        foreach (var group in buses.Where(b => b.Settings.ContainsKey("interface")).GroupBy(b => b.Settings["interface"]))
            foreach (var bus in group.Skip(1))
                diagnostics.Add(Codes.PinTaken, use.BusSettings.GetValueOrDefault(bus.Name)?.GetValueOrDefault("interface")?.Span ?? use.Span, $"interface {group.Key} is both bus '{group.First().Name}' and bus '{bus.Name}'", "give each bus its own interface");
    }

    private static string DataPhase(Bus bus) => bus.DataRate is { } rate ? $"a data rate of {rate} bit/s and {bus.DataSamplePoint / 10.0} %" : "no data rate";

    private static PlannedBus PlanOne(Bus bus, int index, BoardUse use, BoardKind kind, PinMap pins, string controller, DiagnosticBag diagnostics)
    {
        var given = use.BusSettings.GetValueOrDefault(bus.Name) ?? new Dictionary<string, Setting>();
        var controllerKind = kind.KindOf(controller);
        string[] shared = kind.Choice(ControllerPlanner.Setting, index) is null ? [] : [ControllerPlanner.Setting];
        string[] wires = kind.IsOnSpi(controller) ? ["sck", "mosi", "miso"] : [];
        string[] own = controllerKind switch
        {
            "mcp2515" or "mcp2518fd" => ["cs", "int", "crystal", "tolerance"],
            "bxcan" or "fdcan" => ["pins", "tolerance"],
            "sam3x" or "flexcan" => ["tolerance"],
            "twai" => ["tx", "rx", "tolerance"],
            "socketcan" => ["interface"],
            _ => [],
        };
        string[] known = [.. shared, .. wires, .. own];
        foreach (var (name, setting) in given.Where(g => !known.Contains(g.Key)))
            diagnostics.Add(Codes.UnknownKey, setting.Span, $"a bus of {kind.Name} has no setting '{Printable.Short(name)}'", Nearest.Mend(name, known, "setting"));
        var settings = known.ToDictionary(s => s, s => given.TryGetValue(s, out var v) ? v.Value : s is ControllerPlanner.Setting ? controller : kind.Default(s, index), StringComparer.Ordinal);
        foreach (var (name, word) in settings)
            if (kind.Choice(name, index) is { } choices && !choices.Contains(word))
                diagnostics.Add(Codes.UnknownWord, given.GetValueOrDefault(name)?.Span ?? use.Span, $"'{Printable.Short(word)}' is not a choice for '{name}' on {kind.Name}", Nearest.Mend(word, [.. choices], "choice"));
        var taken = new Dictionary<string, PlannedPin>(StringComparer.Ordinal);
        foreach (var setting in known.Where(s => s is "cs" or "int" or "tx" or "rx" or "sck" or "mosi" or "miso"))
            if (pins.Take(settings[setting], $"{setting} of bus '{bus.Name}'", given.GetValueOrDefault(setting)?.Span ?? use.Span) is { } pin)
                taken[setting] = pin;
        // The kernel, or the user's own driver, finds the segments itself.
        var timing = controllerKind is "none" or "socketcan" or "own" ? null : TimingPlanner.Plan(bus, settings, controller, given, use, kind, diagnostics);
        return new PlannedBus(index, bus.Name, bus.Rate, bus.SamplePoint, timing?.Nominal, settings, taken) { ControllerKind = controllerKind, DataRate = bus.DataRate, DataSamplePoint = bus.DataSamplePoint, Choice = timing };
    }
}
