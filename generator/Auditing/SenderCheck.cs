using Locum.Reporting;

namespace Locum.Auditing;

/// <summary>Looks for identifiers that a second node sends as well: a second phase of the period, or a second counter between the first one's values.</summary>
internal sealed class SenderCheck(PartView view, Sink sink)
{
    private const int Enough = 4;
    private const double DoubleRate = 1.6;
    private const double MostStray = 0.1;
    private const double Mostly = 0.6;
    private const int MostPeriods = 3;
    private const int Sample = 100;

    /// <summary>True (and a finding) when two nodes send the frame.</summary>
    public bool Check(ModuleTrack module, FrameTrack track)
    {
        if (track.Seen.Count < 2 * Enough || !track.Frame.IsDescribed)
            return false;
        var counters = CounterChains(track);
        var phases = track.IsPlain && track.Frame is { PeriodByMode.Count: 0, Burst: null }
            ? module.Stays(track.Modes).Select(s => PhaseChains(track, s)).FirstOrDefault(p => p is not null) : null;
        if (counters is null && phases is null)
            return false;
        var what = (phases, counters) switch
        {
            ({ } p, not null) => $"two phases of the period, {Words.Time(p.Apart)} apart, each with its own counter",
            ({ } p, null) => $"two phases of the period, {Words.Time(p.Apart)} apart",
            _ => "two counters between each other's values",
        };
        var (first, last) = phases is { } phase ? (phase.First, phase.Last) : (counters!.Value.First, counters.Value.Last);
        var count = track.Seen.Count(s => s.StartUs >= first && s.StartUs <= last);
        sink.Add(FindingKind.TwoSenders, track, $"two nodes send it: {what}", first, last, count);
        return true;
    }

    // Within a stay the frame does not start anew, which would change its phase.
    private (long First, long Last, long Apart)? PhaseChains(FrameTrack track, Stay stay)
    {
        var period = track.Frame.PeriodUs;
        // A frame of another node holds it up by its own length.
        var allowed = Math.Max(Math.Max(view.Tolerance.LateUs(period), period / 5), Math.Min(track.Bus!.LongestUs, period / 4));
        if (2 * allowed > period)
            return null;
        var chains = new List<List<long>>();
        for (var i = track.FirstFrom(stay.FirstUs - view.Tolerance.StampUs); i < track.Seen.Count && track.Seen[i].UntilUs <= stay.LastUs; i++)
        {
            var seen = track.Seen[i];
            var best = chains.Where(c => Off(c[^1], seen.StartUs) <= allowed).MinBy(c => Off(c[^1], seen.StartUs));
            if (best is null)
                chains.Add([seen.StartUs]);
            else
                best.Add(seen.StartUs);
            if (chains.Count > Math.Max(Enough * Enough, track.Seen.Count / Enough))
                return null;
        }
        var two = chains.OrderByDescending(c => c.Count).Take(2).ToList();
        if (two.Count < 2 || two[1].Count < Enough || two[0].Count + two[1].Count < Mostly * chains.Sum(c => c.Count))
            return null;
        var (first, last) = (Math.Max(two[0][0], two[1][0]), Math.Min(two[0][^1], two[1][^1]));
        var both = track.Seen.Count(s => s.StartUs >= first && s.StartUs <= last);
        if (last - first < Enough * period / 2 || both < DoubleRate * (last - first) / period)
            return null;
        // One sender at twice the rate has its frames half a period apart and one counter through all of them.
        var apart = Apart(two[0], two[1], period);
        var half = Math.Abs(apart - (period / 2)) <= Math.Min(view.Tolerance.LateUs(period), period / 8);
        return half && (CounterStep.Field(track) is null || CounterStep.Follows(track)) ? null : (first, last, apart);

        // From where the chain would go on, within a few periods.
        double Off(long before, long now)
        {
            var periods = Math.Round((double)(now - before) / period);
            return periods is >= 1 and <= MostPeriods ? Math.Abs(now - before - (periods * period)) : double.MaxValue;
        }
    }

    // Two runs of one counter, each going up step by step, taking turns.
    private static (long First, long Last)? CounterChains(FrameTrack track)
    {
        if (CounterStep.Field(track) is not { } counter)
            return null;
        var chains = new List<(ulong Next, int Count, long First, long Last)>();
        var turns = 0;
        var previous = -1;
        foreach (var seen in track.Seen)
        {
            if (counter.Place(track.Data(seen)) is not { } place)
                continue;
            var found = previous >= 0 && chains[previous].Next == place ? previous : chains.FindIndex(c => c.Next == place);
            if (found < 0)
            {
                found = chains.Count;
                chains.Add((place, 0, seen.StartUs, 0));
            }
            chains[found] = ((place + 1) % counter.Count, chains[found].Count + 1, chains[found].First, seen.StartUs);
            if (chains[found].Count > 1 && found != previous)
                turns++;
            previous = found;
            if (chains.Count > Enough * Enough)
                return null;
        }
        var two = chains.OrderByDescending(c => c.Count).Take(2).ToList();
        return two.Count is 2 && two[1].Count >= Enough && turns >= 2 * Enough && track.Seen.Count - two[0].Count - two[1].Count <= MostStray * track.Seen.Count
            ? (Math.Max(two[0].First, two[1].First), Math.Min(two[0].Last, two[1].Last)) : null;
    }

    private static long Apart(List<long> a, List<long> b, long period)
    {
        var distances = b.Take(Sample).Select(t => a.Min(u => Math.Abs(t - u))).Order().ToList();
        return Math.Min(distances[distances.Count / 2], period / 2);
    }
}
