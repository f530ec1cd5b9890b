using Locum.Boards;
using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Planning;

/// <summary>Gives buses their controllers on boards whose controllers are not alike.</summary>
internal static class ControllerPlanner
{
    public const string Setting = "controller";

    /// <summary>A controller's word for each bus; empty on boards where the buses follow the order of the controllers.</summary>
    public static IReadOnlyDictionary<string, string> Assign(IReadOnlyList<Bus> buses, BoardUse use, BoardKind kind, DiagnosticBag diagnostics)
    {
        var assigned = new Dictionary<string, string>(StringComparer.Ordinal);
        if (kind.Choice(Setting, 0) is not { } all)
            return assigned;
        foreach (var bus in buses)
            if (Given(bus, use) is { } given)
                assigned[bus.Name] = given.Value;
        CheckGiven(buses, assigned, use, kind, diagnostics);
        // Those that need more choose first; the others leave it to them as long as they can.
        foreach (var bus in buses.Where(b => !assigned.ContainsKey(b.Name)).OrderBy(b => b.DataRate is null).ToList())
        {
            var free = all.Except(assigned.Values).ToList();
            var fit = bus.DataRate is null ? free.OrderBy(kind.FdControllers.Contains).FirstOrDefault() : free.Find(kind.FdControllers.Contains);
            if (fit is null && bus.DataRate is not null && kind.Fd)
                diagnostics.Add(Codes.NoFd, bus.Span, $"'{bus.Name}' carries CAN FD, and of {kind.Name}'s controllers only {string.Join(", ", kind.FdControllers)} can; another bus has it", "use a board with more controllers for CAN FD ('locum boards')");
            assigned[bus.Name] = fit ?? all[^1];
        }
        return assigned;
    }

    private static Setting? Given(Bus bus, BoardUse use) => use.BusSettings.GetValueOrDefault(bus.Name)?.GetValueOrDefault(Setting);

    private static void CheckGiven(IReadOnlyList<Bus> buses, Dictionary<string, string> assigned, BoardUse use, BoardKind kind, DiagnosticBag diagnostics)
    {
        foreach (var bus in buses.Where(b => assigned.ContainsKey(b.Name)))
        {
            var word = assigned[bus.Name];
            var span = Given(bus, use)!.Span;
            if (buses.FirstOrDefault(b => assigned.GetValueOrDefault(b.Name) == word) is { } first && first != bus)
                diagnostics.Add(Codes.PinTaken, span, $"controller {word} is both bus '{first.Name}' and bus '{bus.Name}'", "give each bus its own controller");
            else if (bus.DataRate is not null && kind.Fd && !kind.FdControllers.Contains(word))
                diagnostics.Add(Codes.NoFd, span, $"'{bus.Name}' carries CAN FD, which {word} of {kind.Name} cannot send or tolerate", $"use {string.Join(" or ", kind.FdControllers)}");
        }
    }
}
