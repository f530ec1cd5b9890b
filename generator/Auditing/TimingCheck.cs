using Locum.Inference;
using Locum.Reporting;

namespace Locum.Auditing;

/// <summary>
/// Periods of cyclic frames, wherever their module certainly was in modes that send them. A frame counts as late only by
/// the time in which its bus was free, so a busy bus is not held against the board.
/// </summary>
internal sealed class TimingCheck(PartView view, Sink sink)
{
    private const int Enough = 5;
    private const double Most = 0.5;
    private const double LikeOthers = 3;

    /// <summary>Judges a frame; what is missing goes to its gaps.</summary>
    public void Check(ModuleTrack module, FrameTrack track)
    {
        var stays = module.Stays(track.Modes);
        if (stays.Count is 0)
        {
            if (track.Seen.Count > 0)
                sink.Skip($"period of {track.Frame.Name}: its frames do not tell how long the module stays in its modes");
            return;
        }
        var steps = new List<Step>();
        foreach (var stay in stays)
            Collect(module, track, stay, steps);
        var period = Period(track, steps);
        foreach (var stay in stays)
        {
            CheckStart(track, stay);
            CheckEnd(track, stay, period);
        }
        CheckSteps(track, steps, period);
        Report(track);
    }

    // Distances between neighbours that lie in one stay.
    private void Collect(ModuleTrack module, FrameTrack track, Stay stay, List<Step> steps)
    {
        var first = -1;
        for (var i = track.FirstFrom(stay.FirstUs - view.Tolerance.StampUs); i < track.Seen.Count && track.Seen[i].UntilUs <= stay.LastUs; i++)
        {
            if (track.Seen[i].UntilUs < stay.FirstUs)
                continue;
            // What was released before the stay may belong to an earlier one.
            if (first < 0)
                first = i;
            else if (track.Seen[i - 1].ReleasedUs >= stay.FromUs)
                steps.Add(Measure(module, track, i, i - first > (track.Frame.Burst?.Count ?? 0)));
        }
    }

    private Step Measure(ModuleTrack module, FrameTrack track, int i, bool steady)
    {
        var (before, now) = (track.Seen[i - 1], track.Seen[i]);
        var (shortest, longest) = (track.Frame.ShortestPeriodUs, steady && track.IsPlain ? track.Frame.PeriodUs : track.LongestUs);
        if (steady && track.Frame.PeriodByMode.Count is 0)
            shortest = longest;
        foreach (var (mode, time) in track.Frame.PeriodByMode)
            if (steady && track.IsPlain && module.Stayed(1UL << mode, before.ReleasedUs, now.UntilUs))
                (shortest, longest) = (time, time);
        var late = track.Bus!.Idle(track.Free(before.StartUs + longest, now.StartUs), now.StartUs);
        return new Step(i, shortest, longest, late, Early(track, i, shortest));
    }

    private long Early(FrameTrack track, int i, long shortest) => track.Frame.Events is not null ? 0
        : Math.Max(0, track.Seen[i - 1].ReleasedUs + Tolerance.BoardUs + view.Tolerance.StampUs + shortest - track.Seen[i].StartUs);

    // Another period than described, when most distances agree on it; otherwise 0.
    private double Period(FrameTrack track, List<Step> steps)
    {
        var one = steps.Where(s => s.ShortestUs == s.LongestUs).ToList();
        if (one.Count < Enough || one.Count < Most * steps.Count || track.Frame.PeriodByMode.Count > 0)
            return 0;
        var period = track.Frame.PeriodUs;
        // Without the time in which the bus was busy, so that its load makes no other period.
        var distances = one.Select(s => (Free: (double)(period + s.LateUs - s.EarlyUs), Whole: (double)(track.Seen[s.Index].StartUs - track.Seen[s.Index - 1].StartUs))).OrderBy(d => d.Free).ToList();
        var middle = distances[distances.Count / 2].Free;
        var near = distances.Where(d => d.Free > 0.6 * middle && d.Free < 1.4 * middle).ToList();
        var off = Math.Abs(near.Average(d => d.Free) - period) > view.Tolerance.PeriodUs(period, near.Count);
        var mean = near.Average(d => d.Whole);
        var same = near.Count(d => Math.Sign(d.Free - period) == Math.Sign(mean - period));
        if (!off || same < Most * one.Count)
            return 0;
        var (first, last) = (track.Seen[one[0].Index - 1].StartUs, track.Seen[one[^1].Index].StartUs);
        sink.Add(FindingKind.Period, track, $"sent every {Words.Time(mean)}, described is {Words.Time(period)}", first, last, one.Count);
        return mean;
    }

    private void CheckSteps(FrameTrack track, List<Step> steps, double period)
    {
        var (count, first, last, worst) = (0, 0L, 0L, 0L);
        var owed = 0L;
        foreach (var step in steps)
        {
            var (before, now) = (track.Seen[step.Index - 1].StartUs, track.Seen[step.Index].StartUs);
            var usual = period > 0 ? (long)period : step.LongestUs;
            var late = period > 0 ? track.Bus!.Idle(track.Free(before + usual, now), now) : step.LateUs;
            var early = period > 0 ? Early(track, step.Index, usual) : step.EarlyUs;
            var missed = (int)Math.Round((double)(now - before) / usual) - 1;
            var allowed = view.Tolerance.LateUs(usual);
            // A frame that keeps its phase comes early behind a late one.
            early = Math.Max(0, early - owed);
            owed = late > allowed ? Math.Max(0, now - before - (usual * ((now - before + allowed) / usual))) : 0;
            if (late <= allowed && early <= allowed)
                continue;
            if (view.MayBeGuarded(before, now))
            {
                sink.Skip($"{track.Frame.Name} while the whole board was silent: a guard may want that");
                continue;
            }
            if (late > allowed && missed > 0)
            {
                track.Add(new Gap(before + usual, now, missed, false, false));
                continue;
            }
            first = count is 0 ? now : first;
            last = now;
            count++;
            worst = Math.Max(worst, Math.Max(late, early));
        }
        if (count > 0)
            sink.Add(FindingKind.Jitter, track, $"{count} of {Words.Count(steps.Count, "distance")} off by more than allowed, worst {Words.Time(worst)} at a period of {Words.Time(period > 0 ? period : track.Frame.PeriodUs)}", first, last, count);
    }

    private void CheckStart(FrameTrack track, Stay stay)
    {
        var next = track.FirstFrom(stay.FromUs - view.Tolerance.StampUs);
        var wait = Math.Max(track.Frame.OffsetUs, track.LongestUs);
        var before = stay.FromUs - track.LongestUs - view.Tolerance.LateUs(track.LongestUs);
        var rested = view.Part.StartUs <= before && (next is 0 || track.Seen[next - 1].StartUs < before);
        var due = stay.FromUs + (rested ? track.Frame.OffsetUs : wait);
        var end = Math.Min(stay.UntilUs, view.EndUs(track));
        var until = next < track.Seen.Count ? Math.Min(track.Seen[next].StartUs, end) : end;
        due = track.Free(Math.Max(due, view.Part.StartUs), until);
        var late = track.Bus!.Idle(due, until);
        if (late <= view.Tolerance.LateUs(track.LongestUs) || view.MayBeGuarded(stay.FromUs, until))
            return;
        var never = next == track.Seen.Count || track.Seen[next].StartUs > stay.UntilUs;
        track.Add(new Gap(due, until, Math.Max(1, (int)Math.Round((double)(until - due) / track.LongestUs)), never, true));
    }

    private void CheckEnd(FrameTrack track, Stay stay, double period)
    {
        var next = track.FirstFrom(stay.LastUs + 1 - view.Tolerance.StampUs);
        while (next < track.Seen.Count && track.Seen[next].UntilUs <= stay.LastUs)
            next++;
        var last = next - 1;
        if (last < 0 || track.Seen[last].UntilUs < stay.FirstUs)
            return;
        var usual = period > 0 ? (long)period : track.LongestUs;
        var due = track.Seen[last].StartUs + usual;
        if (track.Seen[last].ReleasedUs < stay.FromUs)
            due = Math.Max(due, stay.FromUs + track.Frame.OffsetUs);
        var end = Math.Min(stay.UntilUs, view.EndUs(track));
        var until = next < track.Seen.Count ? Math.Min(track.Seen[next].StartUs, end) : end;
        due = track.Free(due, until);
        if (track.Bus!.Idle(due, until) <= view.Tolerance.LateUs(usual) || view.MayBeGuarded(due - usual, until))
            return;
        var ends = next == track.Seen.Count || track.Seen[next].StartUs > stay.UntilUs;
        var missed = (int)Math.Round((double)(until - due) / usual);
        if (ends || missed > 0)
            track.Add(new Gap(due, until, Math.Max(1, missed), ends, false));
    }

    private void Report(FrameTrack track)
    {
        if (track.Seen.Count is 0 && track.Gaps.Count > 0)
        {
            sink.Add(FindingKind.NeverSent, track, $"never sent; expected for {Words.Time(track.Gaps.Sum(g => g.UntilUs - g.FromUs))} at least", track.Gaps[0].FromUs, track.Gaps[^1].UntilUs, track.Gaps.Sum(g => g.Missed));
            return;
        }
        Tell(FindingKind.LateStart, g => g.AtStart && !g.AtEnd, g => $"comes {Words.Time(g.UntilUs - g.FromUs)} at least after it was due");
        Tell(FindingKind.EarlyEnd, g => g.AtEnd && !g.AtStart, g => $"not sent any more; expected for {Words.Time(g.UntilUs - g.FromUs)} more at least");
        Tell(FindingKind.Missing, g => g.AtEnd == g.AtStart, g => $"{Words.Count(g.Missed, "frame")} in a row");

        void Tell(FindingKind kind, Func<Gap, bool> which, Func<Gap, string> words)
        {
            var gaps = track.Gaps.Where(which).ToList();
            if (gaps.Count is 0)
                return;
            var worst = gaps.MaxBy(g => g.UntilUs - g.FromUs);
            var missed = gaps.Sum(g => g.Missed);
            var message = kind is FindingKind.Missing
                ? $"{Words.Count(missed, "frame")} missing in {Words.Count(gaps.Count, "place")}, {words(worst)} at most"
                : $"{words(worst)}{(gaps.Count > 1 ? $", the worst of {gaps.Count} times" : "")}";
            // As few as the logger loses of other nodes' frames say nothing about the board.
            var lost = kind is FindingKind.Missing && view.Tolerance.LostShare > OtherNodes.Noticeable && missed <= LikeOthers * view.Tolerance.LostShare * (track.Seen.Count + missed);
            sink.Add(kind, track, lost ? $"{message}, as of other nodes' frames" : message, gaps.Min(g => g.FromUs), gaps.Max(g => g.UntilUs), kind is FindingKind.Missing ? missed : gaps.Count, null, lost ? Confidence.Possible : Confidence.Certain);
        }
    }

    /// <summary>From one frame to the next.</summary>
    /// <param name="Index">Of the later one.</param>
    /// <param name="LateUs">Time in which the bus was free behind the longest described distance.</param>
    /// <param name="EarlyUs">What is missing to the shortest one.</param>
    private readonly record struct Step(int Index, long ShortestUs, long LongestUs, long LateUs, long EarlyUs);
}
