using Locum.Binding;
using Locum.Model;
using Locum.Planning;

namespace Locum.Rendering.Views;

internal static class ModuleViews
{
    private const int LapBits = 30;

    public static ModuleView Of(PlannedModule planned, BoardPlan plan, IReadOnlyList<InputView> inputs, IReadOnlyList<string> banner)
    {
        var module = planned.Module;
        var c = Names.ToC(module.Name);
        var modeNames = module.Modes.Select(m => $"MODE_{c}_{Names.ToC(m.Name)}".ToUpperInvariant()).ToList();
        var counters = module.Counters.Select((k, i) => CounterViews.Of(k, i, i + 1)).ToList();
        var sources = module.Frames.SelectMany(f => f.AllFields).Select(f => f.Source).ToList();
        var carried = sources.OfType<CounterValue>().Select(v => v.Counter).ToHashSet();
        // A checksum over nothing is its start value and needs no table.
        var tables = sources.OfType<ChecksumValue>()
            .Where(v => v.Checksum.Over.Count + v.Checksum.Before.Count + v.Checksum.With.Count > 0)
            .Select(v => v.Checksum.Rule).OfType<CrcRule>()
            .Select(r => new CrcTable(r.Parameters)).DistinctBy(t => t.C).ToList();
        var used = module.Modes.SelectMany(m => m.Exits).SelectMany(e => e.When).OfType<InputCondition>().Select(w => w.Input).Distinct().Order()
            .Select(i => inputs[planned.Inputs[i]]).ToList();
        var own = module.Frames.Where(f => f.IsDescribed).ToList();
        return new ModuleView(
            CText.Comment(module.Name),
            c,
            c.ToUpperInvariant(),
            $"module_{c}",
            banner,
            planned.Index,
            HasLaps(plan),
            [.. module.Modes.Select(m => Mode(m, modeNames, planned, inputs))],
            used.Count > 0,
            module.Modes.Any(m => m.Exits.Count > 0),
            used,
            ReceiveViews.Readers(module),
            [.. counters.Where(k => carried.Contains(k.Index))],
            tables,
            [.. own.SelectMany(f => FrameViews.Compositions(f, module, plan.Buses[planned.Buses[f.Bus]].Name, c, counters, modeNames))],
            [.. module.Frames.Select(f => FrameViews.Of(f, module, plan.Buses[planned.Buses[f.Bus]].Name, c, counters, modeNames) with { IsDescribed = f.IsDescribed })])
        {
            Outputs = [.. plan.Outputs.Where(o => o.Owner.Index == planned.Index).Select(o => OutputViews.Of(o, inputs))],
        };
    }

    /// <summary>True if a mode of the board lasts longer than one lap, so that its firmware must count laps.</summary>
    public static bool HasLaps(BoardPlan plan) => plan.Modules.SelectMany(m => m.Module.Modes).Any(m => m.ForUs >> LapBits > 0);

    private static ModeView Mode(Mode mode, List<string> names, PlannedModule planned, IReadOnlyList<InputView> inputs)
    {
        var exits = mode.Exits.Select(e => new ExitView(
            string.Join(" &&\n            ", e.When.Select(w => ConditionText.Of(w, planned, inputs))),
            names[e.Then])).ToList();
        var forUs = mode.ForUs ?? 0;
        return new ModeView(
            CText.Comment(mode.Name),
            names[mode.Index],
            mode.Index,
            (uint)(forUs & ((1L << LapBits) - 1)),
            (int)(forUs >> LapBits),
            mode.Then is { } then ? names[then] : "LOCUM_NONE",
            mode.ForUs is null ? "no limit" : CText.Time(forUs),
            exits);
    }
}
