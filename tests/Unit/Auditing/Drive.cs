using Locum.Auditing;
using Locum.Capture;
using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Locum.Simulation;
using Locum.Tests.Unit.Capture;
using Xunit;

namespace Locum.Tests.Unit.Auditing;

/// <summary>A board of the demo in its surroundings, logged; what is done to the log, or to the board's firmware, must be found.</summary>
internal sealed class Drive
{
    private readonly IReadOnlyList<BoardPlan> _plans;

    private Drive(IReadOnlyList<BoardPlan> plans, IReadOnlyList<string> buses, List<LogEntry> log)
    {
        _plans = plans;
        Buses = buses;
        Log = log;
    }

    public IReadOnlyList<string> Buses { get; }

    /// <summary>In order of time.</summary>
    public List<LogEntry> Log { get; private set; }

    /// <summary>A board of the demo without what its stimulus does to bus and board.</summary>
    /// <param name="wrong">The firmware's description where it is not the right one: text and what stands there instead.</param>
    public static Drive Of(string board, params (string Text, string Instead)[] wrong)
    {
        var loaded = Loader.Load(RepoRoot.Path("projects", "depot-loco"));
        var plan = loaded.Plans.Single(p => p.Name == board);
        var sent = wrong.Length is 0 ? plan : Other(plan, wrong);
        return Run([plan], sent, loaded.Stimuli[board]);
    }

    /// <summary>A description of its own.</summary>
    /// <param name="module">Behind its first three lines.</param>
    /// <param name="stimulus">Behind its first two lines.</param>
    public static Drive Of(string module, string stimulus, params (string Text, string Instead)[] wrong)
    {
        using var folder = new TempFolder();
        var loaded = Load(folder, $"locum: 1\nmodule: m\nhazard: none\n{module}");
        File.WriteAllText(folder.Path("s.yaml"), $"locum: 1\nstimulus: s\n{stimulus}");
        var bag = new Locum.Diagnostics.DiagnosticBag();
        var read = Loader.LoadStimulus(folder.Path("s.yaml"), loaded.Plans, bag, new Dictionary<string, Locum.Text.SourceText>())!;
        Assert.Empty(bag.Sorted);
        return Run(loaded.Plans, wrong.Length is 0 ? loaded.Plans[0] : Other(loaded.Plans[0], wrong, $"locum: 1\nmodule: m\nhazard: none\n{module}"), read);
    }

    /// <summary>Entries of an identifier.</summary>
    public List<LogEntry> All(uint id) => [.. Log.Where(e => e.Id.Value == id)];

    public void Change(Func<LogEntry, LogEntry?> change) => Log = [.. Log.Select(change).OfType<LogEntry>().OrderBy(e => e.TimeUs)];

    public void Drop(uint id, Func<LogEntry, int, bool> which)
    {
        var number = 0;
        Change(e => e.Id.Value == id && which(e, number++) ? null : e);
    }

    public void Add(IEnumerable<LogEntry> entries) => Log = [.. Log.Concat(entries).OrderBy(e => e.TimeUs)];

    public AuditResult Audit(long stepUs = 1, Recording? original = null) => Locum.Auditing.Audit.Of(_plans, Recordings.Of(Log, Buses, stepUs), original);

    public AuditResult AuditWith(Drive original) => Audit(1, Recordings.Of(original.Log, original.Buses));

    /// <summary>Exactly these findings: "Kind Frame", or "Kind" for those about the module.</summary>
    public AuditResult Finds(params string[] expected)
    {
        var result = Audit();
        Same(expected, result);
        return result;
    }

    public static void Same(IReadOnlyList<string> expected, AuditResult result)
    {
        var got = result.Findings.Select(f => $"{f.Kind} {f.Frame}".TrimEnd()).ToList();
        Assert.True(expected.Order().SequenceEqual(got.Order()), string.Join('\n', result.Findings.Select(f => $"{f.Kind} {f.Frame} x{f.Count} {f.FirstUs}..{f.LastUs}: {f.Message}").Prepend("found:")));
    }

    private static Drive Run(IReadOnlyList<BoardPlan> plans, BoardPlan sent, Stimulus stimulus)
    {
        var quiet = stimulus with { Blocked = [], Stalls = [], BusOffs = [], Resets = [] };
        var buses = plans[0].Buses.Select(b => b.Name).ToList();
        var frames = Simulator.Run([sent], quiet).Frames.Where(f => f.EndUs >= 0).Select(Recordings.Entry).ToList();
        return new Drive(plans, buses, frames);
    }

    private static BoardPlan Other(BoardPlan plan, (string Text, string Instead)[] wrong, string? text = null)
    {
        text ??= File.ReadAllText(plan.Modules[0].Module.Path);
        foreach (var (old, instead) in wrong)
        {
            Assert.Contains(old, text, StringComparison.Ordinal);
            text = text.Replace(old, instead, StringComparison.Ordinal);
        }
        using var folder = new TempFolder();
        return Load(folder, text).Plans[0];
    }

    private static Loaded Load(TempFolder folder, string text)
    {
        File.WriteAllText(folder.Path("m.yaml"), text);
        var loaded = Loader.Load(folder.Path("m.yaml"));
        Assert.True(!loaded.Diagnostics.HasErrors, string.Join('\n', loaded.Diagnostics.Sorted.Select(d => d.Message)));
        return loaded;
    }
}
