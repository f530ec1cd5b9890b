using Locum.Model;

namespace Locum.Reviewing;

/// <summary>The differences in meaning between two revisions.</summary>
/// <param name="Changes">Those about hazards first, otherwise from the outside in.</param>
public sealed record Review(IReadOnlyList<Change> Changes, IReadOnlyList<Effect> Effects)
{
    /// <exception cref="ArgumentException">One is a stimulus and the other is none.</exception>
    public static Review Of(Subject before, Subject after) => (before, after) switch
    {
        ({ Stimulus: { } old }, { Stimulus: { } now }) => new Review([.. StimulusFacts.Compare(old, now, (_, name) => name)], []),
        ({ Project: { } old }, { Project: { } now }) => Of(old, now, before.Stimuli, after.Stimuli),
        _ => throw new ArgumentException("a stimulus and a project have nothing in common", nameof(after)),
    };

    private static Review Of(Project before, Project after, IReadOnlyDictionary<string, Stimulus> oldStimuli, IReadOnlyDictionary<string, Stimulus> newStimuli)
    {
        var pairs = PairModules(Modules(before), Modules(after));
        var changes = new List<Change>();
        var effects = new List<Effect>();
        var scopes = new List<Scope>();
        var newNames = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var (old, now) in pairs)
        {
            if (old is not null && now is not null && old.Name != now.Name)
                newNames[old.Name] = now.Name;
            var (scope, oldItem) = old is null ? (null, null) : Describe(old, now);
            if (scope is not null)
                scopes.Add(scope);
            var newScope = now is null ? null : new Scope(now, Nothing);
            changes.AddRange(Comparer.Compare(oldItem is null ? [] : [oldItem], newScope is null ? [] : [ModuleFacts.Of(newScope, null)], []));
            effects.AddRange(Reviewing.Effects.Of(scope, newScope));
        }
        if (IsProject(before) || IsProject(after))
        {
            var boards = Boards(before, after, newNames);
            changes.AddRange(Comparer.Compare(boards, Boards(after, null, []), []));
            var used = before.Boards.Zip(boards, (use, item) => (Old: use, New: after.Boards.FirstOrDefault(b => b.Name == item.Name)));
            foreach (var (old, now) in used.DistinctBy(u => (u.Old.StimulusPath, u.New?.StimulusPath)))
                if (oldStimuli.GetValueOrDefault(old.Name) is { } was && newStimuli.GetValueOrDefault(now?.Name ?? "") is { } stimulus)
                    changes.AddRange(StimulusFacts.Compare(was, stimulus, (kind, name) => scopes.Select(s => s.Named(kind, "", name)).FirstOrDefault(n => n != name, name)));
        }
        return new Review([.. changes.OrderByDescending(c => c.Hazard)], effects);
    }

    private static Dictionary<(string, string, string), string> Nothing => [];

    // The older module with the newer one's names, found round by round: a condition may name what was renamed as well.
    private static (Scope Scope, Item Item) Describe(Module old, Module? now)
    {
        var renamed = Nothing;
        if (now is not null)
        {
            if (old.Name != now.Name)
                renamed[("module", "", old.Name)] = now.Name;
            var target = ModuleFacts.Of(new Scope(now, Nothing), null);
            while (Renames.Find(ModuleFacts.Of(new Scope(old, renamed), null), target, renamed))
            {
            }
        }
        var scope = new Scope(old, renamed);
        return (scope, ModuleFacts.Of(scope, now is null || old.Name == now.Name ? null : old.Name));
    }

    private static IReadOnlyList<Module> Modules(Project project) => [.. project.Boards.SelectMany(b => b.Modules).DistinctBy(m => m.Name)];

    private static List<(Module? Old, Module? New)> PairModules(IReadOnlyList<Module> before, IReadOnlyList<Module> after)
    {
        if (before.Count is 1 && after.Count is 1)
            return [(before[0], after[0])];
        var olds = before.Select(m => (Module: m, Item: ModuleFacts.Of(new Scope(m, Nothing), null))).ToList();
        var news = after.Select(m => (Module: m, Item: ModuleFacts.Of(new Scope(m, Nothing), null))).ToList();
        var pairs = Renames.Pair([.. olds.Select(o => o.Item)], [.. news.Select(n => n.Item)]);
        return
        [
            .. olds.Select(o => ((Module?)o.Module, pairs.Where(p => p.Old == o.Item).Select(p => news.First(n => n.Item == p.New).Module).FirstOrDefault())),
            .. news.Where(n => pairs.All(p => p.New != n.Item)).Select(n => ((Module?)null, (Module?)n.Module)),
        ];
    }

    private static IReadOnlyList<Item> Boards(Project project, Project? newer, Dictionary<string, string> newNames)
    {
        if (!IsProject(project))
            return [];
        var items = project.Boards.Select(b => BoardFacts.Of(b, Name, b.Name, null)).ToList();
        if (newer is null)
            return items;
        var pairs = Renames.Pair(items, Boards(newer, null, []));
        return
        [
            .. project.Boards.Zip(items).Select(p => pairs.Where(r => r.Old == p.Second).Select(r => r.New.Name).FirstOrDefault(p.Second.Name) is var name && name == p.Second.Name
                ? p.Second : BoardFacts.Of(p.First, Name, name, p.Second.Name)),
        ];

        string Name(string module) => newNames.GetValueOrDefault(module, module);
    }

    // A description by itself comes on a board of its own that no file names.
    private static bool IsProject(Project project) => project.Boards.Any(b => b.Modules.All(m => m.Span != b.Span));
}
