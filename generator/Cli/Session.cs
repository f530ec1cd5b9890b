using Locum.Diagnostics;
using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Locum.Text;

namespace Locum.Cli;

/// <summary>A loaded path with one board or all, ready to be worked on.</summary>
internal sealed record Session(Loaded Loaded, IReadOnlyList<BoardPlan> Plans, Stimulus? Given, long? ForUs)
{
    public string ProjectName => Loaded.Project!.Name;

    /// <summary>Loads a path and reports its findings; null when there are errors.</summary>
    public static Session? Open(Terminal terminal, string path, string? board, string? stimulusPath, long? forUs)
    {
        var loaded = Loader.Load(path);
        var diagnostics = new DiagnosticBag();
        diagnostics.AddAll(loaded.Diagnostics);
        var sources = new Dictionary<string, SourceText>(loaded.Sources, StringComparer.Ordinal);
        var plans = board is null ? loaded.Plans : [.. loaded.Plans.Where(p => p.Name == board)];
        if (board is not null && plans.Count is 0 && !diagnostics.HasErrors)
            diagnostics.Add(Codes.UnknownBoard, Span.Start(path), $"the project has no board '{Printable.Short(board)}'", Nearest.Mend(board, [.. loaded.Plans.Select(p => p.Name)], "board"));
        var given = stimulusPath is null ? null : Loader.LoadStimulus(stimulusPath, plans, diagnostics, sources);
        if (!diagnostics.HasErrors && plans.Count is 0)
            diagnostics.Add(Codes.Empty, Span.Start(path), "there is no module to work on here", "name a description or a project");
        terminal.Report(diagnostics.Sorted, sources);
        if (diagnostics.HasErrors)
            return null;
        Cautioning.Show(terminal.Error, plans);
        return new Session(loaded, plans, given, forUs);
    }

    /// <summary>What a board is run with: the given stimulus, the project's, or a quiet second; --for wins over its length.</summary>
    public Stimulus StimulusFor(BoardPlan plan)
    {
        var stimulus = Given ?? Loaded.Stimuli.GetValueOrDefault(plan.Name) ?? Stimulus.Quiet;
        return ForUs is { } end ? stimulus with { EndUs = end } : stimulus;
    }

    /// <summary>Boards of a project are simulated together: what happens to any of them happens in one time.</summary>
    public Stimulus Combined()
    {
        var all = Plans.Select(StimulusFor).Distinct().ToList();
        return all.Count is 1 ? all[0] : new Stimulus
        {
            EndUs = all.Max(s => s.EndUs),
            Inputs = [.. all.SelectMany(s => s.Inputs).Distinct().OrderBy(i => i.AtUs)],
            Traffic = [.. all.SelectMany(s => s.Traffic)],
            Blocked = [.. all.SelectMany(s => s.Blocked)],
            BusOffs = [.. all.SelectMany(s => s.BusOffs).Distinct().OrderBy(b => b.AtUs)],
            Resets = [.. all.SelectMany(s => s.Resets).DistinctBy(r => r.AtUs).OrderBy(r => r.AtUs)],
            Stalls = [.. all.SelectMany(s => s.Stalls)],
        };
    }
}
