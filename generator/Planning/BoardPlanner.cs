using Locum.Boards;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Text;
using Locum.Wire;

namespace Locum.Planning;

/// <summary>Puts modules on a board: joins buses and inputs of the same name, checks the board's limits, finds pins and bit timing.</summary>
public static class BoardPlanner
{
    public const int MostFrames = 254;
    public const string PcBoard = "pc";

    /// <summary>The plan, or null when the board is unknown. Findings go to the bag.</summary>
    public static BoardPlan? Plan(BoardUse use, DiagnosticBag diagnostics)
    {
        if (BoardCatalogue.Find(use.Kind) is not { } kind)
        {
            diagnostics.Add(Codes.UnknownBoard, use.KindSpan, $"there is no board '{Printable.Short(use.Kind)}'", Nearest.Mend(use.Kind, [.. BoardCatalogue.Names], "board"));
            return null;
        }
        var pins = new PinMap(kind, diagnostics);
        var buses = BusPlanner.Plan(use, kind, pins, diagnostics);
        var inputs = InputPlanner.Plan(use, kind, pins, diagnostics);
        var led = kind.Default("led", 0) is "" && use.Led is null ? null
            : pins.Take(use.Led?.Value ?? kind.Default("led", 0), "the LED", use.Led?.Span ?? use.Span);
        var modules = use.Modules.Select((m, i) => new PlannedModule(i, m,
            [.. m.Buses.Select(b => buses.FindIndex(p => p.Name == b.Name))],
            [.. m.Inputs.Select(n => inputs.FindIndex(p => p.Name == n.Name))])).ToList();
        var outputs = OutputPlanner.Plan(use, kind, pins, modules, inputs, diagnostics);
        var frames = Sort(modules);
        var guards = GuardPlanner.Plan(use, inputs);
        CheckNames(use, diagnostics);
        CheckJoinedNames(use, diagnostics);
        CheckFrames(use, frames, diagnostics);
        StartPlanner.Check(use, kind, frames, diagnostics);
        MemoryPlanner.Check(use, kind, frames, diagnostics);
        return new BoardPlan { Name = use.Name, Kind = kind, Buses = buses, Inputs = inputs, Outputs = outputs, Modules = modules, Frames = frames, Led = led, Guards = guards };
    }

    /// <summary>A module by itself on the PC, as simulated when no project is given.</summary>
    public static BoardUse Alone(Module module) => new()
    {
        Name = module.Name.Replace(' ', '-'),
        Kind = PcBoard,
        KindSpan = module.Span,
        Modules = [module],
        BusSettings = new Dictionary<string, IReadOnlyDictionary<string, Setting>>(),
        InputSettings = new Dictionary<string, IReadOnlyDictionary<string, Setting>>(),
        Span = module.Span,
    };

    private static List<PlannedFrame> Sort(IReadOnlyList<PlannedModule> modules) =>
    [
        // A frame whose bus could not be found has been reported and has no place in the plan.
        .. modules.SelectMany(m => m.Module.Frames.Select((f, i) => (Owner: m, Frame: f, Index: i)).Where(f => f.Frame.Bus >= 0))
            .Select(f => (f.Owner, f.Frame, f.Index, Bus: f.Owner.Buses[f.Frame.Bus]))
            .OrderBy(f => f.Bus)
            .ThenBy(f => f.Frame.Id, Comparer<CanId>.Create(CanId.CompareArbitration))
            .Select((f, row) => new PlannedFrame(row, f.Bus, f.Owner, f.Frame, f.Index)),
    ];

    // Modules, buses and inputs of one board share a C program.
    private static void CheckNames(BoardUse use, DiagnosticBag diagnostics)
    {
        Binding.Names.CheckClashes(use.Modules.Select(m => (m.Name, m.Span)), "modules", diagnostics);
        Binding.Names.CheckClashes(use.Modules.SelectMany(m => m.Inputs).DistinctBy(i => i.Name).Select(i => (i.Name, i.Span)), "inputs", diagnostics);
    }

    // In C, names of modes and frames stand behind their module's, joined by '_': "a b" of "m" meets "b" of "m a".
    private static void CheckJoinedNames(BoardUse use, DiagnosticBag diagnostics)
    {
        Check(use.Modules.SelectMany(m => m.Modes.Select(s => (m, s.Name, s.Span))), "modes");
        Check(use.Modules.SelectMany(m => m.Frames.Select(f => (m, f.Name, f.Span))), "frames");
        Check(use.Modules.SelectMany(m => m.Outputs.Select(o => (m, o.Name, o.Span))), "outputs");
        Check(use.Modules.SelectMany(m => m.Receives.Select(r => (m, r.Name, r.Span))), "received frames");

        void Check(IEnumerable<(Module Module, string Name, Span Span)> names, string what)
        {
            var seen = new Dictionary<string, (Module Module, string Name, Span Span)>(StringComparer.Ordinal);
            foreach (var name in names)
            {
                var c = Binding.Names.ToC($"{name.Module.Name} {name.Name}");
                if (seen.TryAdd(c, name))
                    continue;
                var first = seen[c];
                // Modules whose own names clash have been reported as such.
                if (first.Module != name.Module && Binding.Names.ToC(first.Module.Name) != Binding.Names.ToC(name.Module.Name))
                    diagnostics.Add(Codes.NameClash, name.Span, $"the {what} '{name.Name}' of '{name.Module.Name}' and '{first.Name}' of '{first.Module.Name}' have the same name in C", "rename one of them", first.Span);
            }
        }
    }

    private static void CheckFrames(BoardUse use, IReadOnlyList<PlannedFrame> frames, DiagnosticBag diagnostics)
    {
        if (frames.Count > MostFrames)
            diagnostics.Add(Codes.TooMany, use.Span, $"the board would send {frames.Count} frames, its table holds {MostFrames}", "use a second board");
        foreach (var (first, second) in frames.Zip(frames.Skip(1)))
        {
            if (first.Bus == second.Bus && first.Frame.Id == second.Frame.Id && first.Frame.Id.IsValid && first.Owner != second.Owner && !(first.Frame.IsNode && second.Frame.IsNode))
                diagnostics.Add(Codes.SameIdentifier, second.Frame.IdSpan, $"{second.Frame.Id} belongs to '{first.Sender}' on the same bus already", "give each frame its own identifier", first.Frame.IdSpan);
        }
    }
}
