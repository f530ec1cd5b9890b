using Locum.Reporting;

namespace Locum.Auditing;

/// <summary>Payloads sent in turn come in their order; a frame that starts anew begins with the first (rule 27).</summary>
internal static class TurnCheck
{
    public static void Check(ModuleTrack module, FrameTrack track, Sink sink)
    {
        var pages = track.Frame.Pages.Count;
        if (pages is 0)
            return;
        var verdicts = module.Verdicts[track];
        var (tested, wrong, first, last) = (0, 0, 0L, 0L);
        for (var i = 1; i < verdicts.Length; i++)
        {
            if (verdicts[i - 1].Page is not { } before || verdicts[i].Page is not { } now)
                continue;
            tested++;
            var (from, until) = (track.Seen[i - 1], track.Seen[i]);
            var missed = track.MissedBetween(from.FromUs, until.UntilUs);
            if (Follows(track, before, now, missed) || !module.Stayed(track.Modes, from.FromUs, until.UntilUs))
                continue;
            first = wrong is 0 ? until.StartUs : first;
            last = until.StartUs;
            wrong++;
        }
        if (wrong > 0)
            sink.Add(FindingKind.Turn, track, $"payloads out of turn in {wrong} of {Words.Count(tested, "step")}", first, last, wrong);
    }

    private static bool Follows(FrameTrack track, int before, int now, int missed)
    {
        var pages = track.Frame.Pages.Count;
        if (track.Frame.HoldLastPage)
            return now > before ? now - before - 1 <= missed : now == before && now == pages - 1;
        return (now + (2 * pages) - before - 1) % pages <= missed;
    }
}
