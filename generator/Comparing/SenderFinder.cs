using Locum.Inference;
using Locum.Reporting;
using Locum.Wire;

namespace Locum.Comparing;

/// <summary>Groups identifiers that are released by one clock, and tells whether they also start together.</summary>
internal static class SenderFinder
{
    private const double EnoughLog10 = -1.3;
    private const int MostGroups = 26;
    private const long TogetherUs = 200_000;

    /// <param name="missing">Identifiers with what captures with the module show of them.</param>
    /// <param name="first">Letter of the first group.</param>
    public static List<SenderGroup> Find(string bus, IReadOnlyList<(CanId Id, SideStats Side)> missing, long stepUs, char first)
    {
        var pairs = missing.Count * (missing.Count - 1) / 2;
        var tried = Math.Log10(Math.Max(1, pairs));
        var links = new List<(int A, int B, Evidence Evidence)>();
        for (var a = 0; a < missing.Count; a++)
            for (var b = a + 1; b < missing.Count; b++)
            {
                var both = missing[a].Side.Captures.Zip(missing[b].Side.Captures).Where(p => p.First.Count > 0 && p.Second.Count > 0).ToList();
                if (PhaseLock.Of([.. both], stepUs) is { } found && found.Evidence.Contradictions is 0 && found.Evidence.Log10Chance + tried < EnoughLog10)
                    links.Add((a, b, found.Evidence with { Log10Chance = Math.Min(0, found.Evidence.Log10Chance + tried) }));
            }
        var groups = new List<SenderGroup>();
        foreach (var members in Join(missing.Count, links).OrderByDescending(m => m.Count))
        {
            if (groups.Count == MostGroups)
                break;
            var inside = links.Where(l => members.Contains(l.A)).ToList();
            var weakest = inside.MaxBy(l => l.Evidence.Log10Chance).Evidence;
            var together = Together([.. members.Select(m => missing[m].Side)]);
            groups.Add(new SenderGroup((char)(first + groups.Count), bus, [.. members.Select(m => missing[m].Id)],
                $"phases keep still in {Words.Count(weakest.Tested, "capture")}{(together is { } us ? $", first frames within {Words.Time(us)} of each other after wake-up" : "")}", weakest));
        }
        return groups;
    }

    private static List<List<int>> Join(int count, List<(int A, int B, Evidence Evidence)> links)
    {
        var root = Enumerable.Range(0, count).ToArray();
        foreach (var (a, b, _) in links)
        {
            var (from, to) = (root[b], root[a]);
            for (var i = 0; i < count; i++)
                root[i] = root[i] == from ? to : root[i];
        }
        return [.. Enumerable.Range(0, count).GroupBy(i => root[i]).Where(g => g.Count() > 1).Select(g => g.ToList())];
    }

    // Where all of them start after their bus woke up, the widest time between their first frames; null where none shows it.
    private static long? Together(List<SideStats> members)
    {
        long? widest = null;
        for (var c = 0; c < members[0].Captures.Count; c++)
        {
            var firsts = members.Select(m => First(m.Captures[c])).ToList();
            if (firsts.Exists(f => f is null))
                continue;
            var apart = firsts.Max()!.Value - firsts.Min()!.Value;
            if (apart > TogetherUs)
                return null;
            widest = Math.Max(widest ?? 0, apart);
        }
        return widest;
    }

    private static long? First(SightStats capture)
    {
        if (capture.Series is not { } series || capture.PeriodUs is not { } period)
            return null;
        var run = series.Runs[0];
        var time = series.TimesUs[run.First];
        return capture.Awake.WokeUs(run.Part, time) is { } woke && time - woke > period ? time : null;
    }
}
