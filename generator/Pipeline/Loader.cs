using Locum.Binding;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Syntax;
using Locum.Text;
using Locum.Validation;

namespace Locum.Pipeline;

/// <summary>The stages in order: file → syntax → model → validation → plan. Writes nothing, never throws on what a user wrote.</summary>
public sealed class Loader
{
    public const string ProjectFile = "project.yaml";

    private readonly DiagnosticBag _diagnostics = new();
    private readonly Dictionary<string, SourceText> _sources = new(StringComparer.Ordinal);

    /// <summary>Reads a description, a project file, a stimulus or a layout (checked by itself), or a folder with a project file.</summary>
    public static Loaded Load(string path) => new Loader().LoadAny(path);

    /// <summary>Reads a stimulus for given boards.</summary>
    public static Stimulus? LoadStimulus(string path, IReadOnlyList<BoardPlan> plans, DiagnosticBag diagnostics, IDictionary<string, SourceText> sources)
    {
        var loader = new Loader();
        var stimulus = loader.ReadStimulus(path, plans);
        diagnostics.AddAll(loader._diagnostics);
        foreach (var source in loader._sources)
            sources[source.Key] = source.Value;
        return stimulus;
    }

    /// <summary>Reads a layout of a table of frames.</summary>
    public static TableLayout? LoadLayout(string path, DiagnosticBag diagnostics, IDictionary<string, SourceText> sources)
    {
        var loader = new Loader();
        var layout = loader.Read(path) is var (source, root) ? LayoutBinder.Bind(source, root, loader._diagnostics) : null;
        diagnostics.AddAll(loader._diagnostics);
        foreach (var source2 in loader._sources)
            sources[source2.Key] = source2.Value;
        return layout;
    }

    private Loaded LoadAny(string path)
    {
        if (Directory.Exists(path))
            path = Path.Combine(path, ProjectFile);
        Project? project = null;
        Stimulus? stimulus = null;
        if (Read(path) is var (source, root))
        {
            if (Has(root, "project"))
                project = ProjectBinder.Bind(source, root, (name, span) => LoadModule(path, name, span), _diagnostics);
            else if (Has(root, "stimulus"))
                stimulus = StimulusBinder.Bind(root, null, null, _diagnostics);
            else if (Has(root, "layout"))
                LayoutBinder.Bind(source, root, _diagnostics);
            else if (BindModule(source, root) is { } module)
                project = new Project(module.Name, module.Summary, [BoardPlanner.Alone(module)], path);
        }
        var plans = new List<BoardPlan>();
        var stimuli = new Dictionary<string, Stimulus>(StringComparer.Ordinal);
        if (project is not null)
        {
            CheckModulesOnce(project);
            CheckAddresses(project);
            CheckWires(project);
            foreach (var use in project.Boards)
                PlanBoard(use, plans, stimuli);
        }
        return new Loaded { Project = project, Stimulus = stimulus, Plans = plans, Stimuli = stimuli, Diagnostics = _diagnostics, Sources = _sources };
    }

    private void PlanBoard(BoardUse use, List<BoardPlan> plans, Dictionary<string, Stimulus> stimuli)
    {
        if (use.Modules.Count is 0 || BoardPlanner.Plan(use, _diagnostics) is not { } plan)
            return;
        plans.Add(plan);
        if (use.StimulusPath is not null && !File.Exists(use.StimulusPath))
            _diagnostics.Add(Codes.CannotRead, use.Span, $"there is no stimulus '{Printable.Short(Path.GetFileName(use.StimulusPath))}' for this board", "check the path under 'stimulus'; it is relative to the project file");
        else if (use.StimulusPath is not null && ReadStimulus(use.StimulusPath, [plan]) is { } stimulus)
            stimuli[plan.Name] = stimulus;
    }

    private Stimulus? ReadStimulus(string path, IReadOnlyList<BoardPlan> plans) => Read(path) is var (_, root)
        ? StimulusBinder.Bind(root, Names(plans.SelectMany(p => p.Buses).Select(b => b.Name)),
            Names(plans.SelectMany(p => p.Inputs).Select(i => i.Name)), _diagnostics, Names(plans.SelectMany(p => p.Outputs).Select(o => o.Output.Name))) : null;

    private Module? LoadModule(string projectPath, string name, Span span)
    {
        var path = Path.Combine(Path.GetDirectoryName(projectPath) ?? "", name);
        if (!File.Exists(path))
        {
            _diagnostics.Add(Codes.CannotRead, span, $"there is no description '{Printable.Short(name)}'", "check the path; it is relative to the project file");
            return null;
        }
        return Read(path) is var (source, root) ? BindModule(source, root) : null;
    }

    private Module? BindModule(SourceText source, SyntaxNode root)
    {
        var module = ModuleBinder.Bind(source, root, _diagnostics);
        if (module is not null)
            ModuleValidator.Check(module, _diagnostics);
        return module;
    }

    private void CheckModulesOnce(Project project)
    {
        var seen = new Dictionary<string, BoardUse>(StringComparer.Ordinal);
        foreach (var use in project.Boards)
            foreach (var module in use.Modules)
                if (!seen.TryAdd(module.Name, use))
                    _diagnostics.Add(Codes.ModuleTwice, use.Span, $"the module '{module.Name}' runs on board '{seen[module.Name].Name}' already", "leave it on one of the boards, or give the second description another name", seen[module.Name].Span);
    }

    // Boards that name the same wire share it; within a board the planner looks.
    private void CheckWires(Project project)
    {
        var drivers = new Dictionary<string, (Output Output, BoardUse Board)>(StringComparer.Ordinal);
        foreach (var use in project.Boards)
            foreach (var output in use.Modules.SelectMany(m => m.Outputs))
                if (!drivers.TryAdd(output.Name, (output, use)) && drivers[output.Name].Board != use)
                    _diagnostics.Add(Codes.OutputTwice, output.Span, $"board '{drivers[output.Name].Board.Name}' drives the wire '{output.Name}' already", "give each output its own name", drivers[output.Name].Output.Span);
        foreach (var use in project.Boards)
            foreach (var input in use.Modules.SelectMany(m => m.Inputs))
                if (drivers.TryGetValue(input.Name, out var driver) && driver.Board != use && driver.Output.ActiveHigh != input.ActiveHigh)
                    _diagnostics.Add(Codes.WireMismatch, input.Span, $"'{input.Name}' is active {(input.ActiveHigh ? "high" : "low")} here, the output that drives it is active {(input.ActiveHigh ? "low" : "high")}", "give both the same active level, or different names", driver.Output.Span);
    }

    // Boards that name the same bus share it.
    private void CheckAddresses(Project project)
    {
        var seen = new Dictionary<(string Bus, byte Address), Node>();
        foreach (var module in project.Boards.SelectMany(b => b.Modules).DistinctBy(m => m.Path))
            foreach (var node in module.Nodes.Where(n => module.Frames[n.Frame].Bus >= 0))
            {
                var bus = module.Buses[module.Frames[node.Frame].Bus].Name;
                if (!seen.TryAdd((bus, node.Address), node))
                    _diagnostics.Add(Codes.AddressTwice, node.Span, $"the address 0x{node.Address:X2} on '{bus}' belongs to the node '{seen[(bus, node.Address)].Name}' already", "give each node its own address", seen[(bus, node.Address)].Span);
            }
    }

    private (SourceText Source, SyntaxNode Root)? Read(string path)
    {
        if (SyntaxReader.ReadFile(path, _diagnostics) is not { } source)
            return null;
        _sources[path] = source;
        return SyntaxReader.Read(source, _diagnostics) is { } root ? (source, root) : null;
    }

    private static bool Has(SyntaxNode root, string key) => root is MappingNode mapping && mapping.Entries.Any(e => e.Key.Value == key);

    private static IReadOnlyList<string> Names(IEnumerable<string> names) => [.. names.Distinct(StringComparer.Ordinal)];
}
