using Locum.Boards;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Properties;

/// <summary>The texts of a project with one board.</summary>
internal sealed record GeneratedProject(IReadOnlyList<string> Modules, IReadOnlyList<string> Stimuli)
{
    /// <summary>The board's guards, as a flow mapping; empty for none.</summary>
    public string Guards { get; init; } = "";

    /// <summary>Writes the texts as files and reads them like a user's project; any error is a failure.</summary>
    public LoadedProject Load()
    {
        using var folder = new TempFolder();
        for (var i = 0; i < Modules.Count; i++)
            File.WriteAllText(folder.Path($"m{i}.yaml"), Modules[i]);
        File.WriteAllText(folder.Path("project.yaml"), $"locum: 1\nproject: drawn\nboards:\n  one:\n    board: pc\n    modules: [{string.Join(", ", Modules.Select((_, i) => $"m{i}.yaml"))}]\n{(Guards.Length > 0 ? $"    guards: {Guards}\n" : "")}");
        var loaded = Loader.Load(folder.Path());
        Clean(loaded.Diagnostics);
        var stimuli = new List<Stimulus>();
        foreach (var text in Stimuli)
        {
            File.WriteAllText(folder.Path("s.yaml"), text);
            var diagnostics = new DiagnosticBag();
            stimuli.Add(Loader.LoadStimulus(folder.Path("s.yaml"), loaded.Plans, diagnostics, new Dictionary<string, SourceText>())!);
            Clean(diagnostics);
        }
        return new LoadedProject(loaded.Project!.Boards.Single(), loaded.Plans.Single(), stimuli);
    }

    /// <summary>The same modules on another kind of board, or null when that board has not enough room for them.</summary>
    public static BoardPlan? On(string kind, BoardUse use)
    {
        var diagnostics = new DiagnosticBag();
        var plan = BoardPlanner.Plan(WithPins(use with { Kind = kind }), diagnostics);
        return diagnostics.HasErrors ? null : plan;
    }

    /// <summary>Outputs on the last pins of the board that are free by default.</summary>
    public static BoardUse WithPins(BoardUse use)
    {
        var kind = BoardCatalogue.Find(use.Kind)!;
        var inputs = use.Modules.SelectMany(m => m.Inputs).DistinctBy(i => i.Name).Count() + (use.Guards.Enable is null ? 0 : 1);
        // A controller on SPI may be left out.
        string[] mayBeFree = kind.SpiControllers.Count > 0 ? ["cs", "int", "sck", "mosi", "miso"] : [];
        var taken = kind.Defaults.Where(d => !mayBeFree.Contains(d.Key)).SelectMany(d => d.Key is "inputs" ? d.Value.Take(inputs) : d.Value).ToHashSet();
        var free = kind.FreePins.Where(p => !taken.Contains(p) && use.Led?.Value != p).Reverse();
        return use with
        {
            OutputSettings = use.Modules.SelectMany(m => m.Outputs).DistinctBy(o => o.Name).Zip(free)
                .ToDictionary(o => o.First.Name, o => (IReadOnlyDictionary<string, Setting>)new Dictionary<string, Setting> { ["pin"] = new(o.Second, use.Span) }),
        };
    }

    public override string ToString() => string.Join("\n---\n", Modules.Append(Guards).Concat(Stimuli));

    private static void Clean(DiagnosticBag diagnostics)
    {
        var errors = diagnostics.Sorted.Where(d => d.Code.Severity is Severity.Error).Select(d => $"{d.Code.Id} {d.Span}: {d.Message}").ToList();
        Assert.True(errors.Count is 0, string.Join("\n", errors));
    }
}

internal sealed record LoadedProject(BoardUse Use, BoardPlan Plan, IReadOnlyList<Stimulus> Stimuli);
