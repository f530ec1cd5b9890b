using Locum.Capture;
using Locum.Inference.Payload;

namespace Locum.Inference.Relations;

/// <summary>Finds what a field follows among the fields of other identifiers.</summary>
/// <param name="sources">What may be followed.</param>
/// <param name="quantumUs">Step of the time stamps, microseconds.</param>
public sealed class FollowFinder(IReadOnlyList<SourceField> sources, int quantumUs)
{
    private const int MostSamples = 48;
    private const int LeastValues = 2;
    private const int LeastChanges = 3;
    private const int MostDelay = 10;
    private const int MostTrials = 60;
    private const int NarrowBits = 3;
    private const double LeastHits = 0.97;
    private const double SteadyOff = 1.5;

    private readonly IReadOnlyList<IGrouping<FrameSeries, SourceField>> _bySeries = [.. sources.GroupBy(s => s.Series)];

    /// <summary>What the field follows; null when nothing explains it better than chance.</summary>
    /// <param name="payloads">The frames that carry it.</param>
    /// <param name="series">Their series.</param>
    /// <param name="place">The field.</param>
    public FollowFinding? Find(Payloads payloads, FrameSeries series, FieldPlace place)
    {
        var trial = new FollowTrial(payloads, series, place, quantumUs);
        var samples = Samples(trial.Values);
        if (samples.Count < LeastChanges || trial.Values.Distinct().Count() < LeastValues)
            return null;
        double log10Rules = Math.Log10(Math.Max(1, sources.Count)) + Math.Log10(MostDelay + 1) + 1;
        var found = new List<(SourceField Source, FollowRule Rule, Evidence Evidence)>();
        foreach (var (source, rule) in Screen(trial, samples, place.Bits).OrderBy(c => c.Rule.IsEcho ? 0 : 1).ThenBy(c => c.Rule.Delay).Take(MostTrials))
        {
            var (evidence, limited) = trial.Judge(source, rule, log10Rules);
            if (evidence.Tested >= LeastChanges && evidence.Hits >= LeastHits * evidence.Tested && evidence.Log10Chance < Evidence.LikelyLog10)
                found.Add((source, limited, evidence));
        }
        if (found.Count is 0)
            return null;
        var best = found.OrderBy(f => f.Evidence.Contradictions).ThenBy(f => f.Rule.IsEcho ? 0 : 1).ThenBy(f => f.Rule.Delay)
            .ThenBy(f => f.Source.Series.Bus == series.Bus ? 0 : 1).ThenBy(f => f.Source.Series.Id.ArbitrationKey).ThenByDescending(f => f.Source.Place.Bits).First();
        var (lost, timeout) = LostSource.Find(trial, payloads, best.Source, best.Rule);
        return new FollowFinding
        {
            Place = place,
            Source = best.Source.Series,
            From = best.Source.Place,
            Rule = best.Rule,
            Lost = lost,
            TimeoutUs = timeout,
            Evidence = best.Evidence,
            Others = found.Where(f => f.Evidence.Contradictions == best.Evidence.Contradictions).Select(f => f.Source.Series).Distinct().Count() - 1,
            Steady = IsSteady(payloads, trial.Values),
        };
    }

    // Frames at which the field changes, and those before, spread over the recording.
    private static List<int> Samples(ulong[] values)
    {
        var changes = new List<int>();
        for (int i = 1; i < values.Length; i++)
            if (values[i] != values[i - 1])
                changes.Add(i);
        int every = Math.Max(1, changes.Count * 2 / MostSamples);
        return [.. changes.Where((_, n) => n % every is 0).SelectMany(c => (int[])[c - 1, c]).Distinct()];
    }

    private IEnumerable<(SourceField Source, FollowRule Rule)> Screen(FollowTrial trial, List<int> samples, int bits)
    {
        var pairs = new List<(double X, double Y)>();
        foreach (var group in _bySeries)
        {
            var last = trial.Last(group.Key);
            for (int delay = 0; delay <= MostDelay; delay++)
            {
                foreach (var source in group)
                {
                    pairs.Clear();
                    foreach (int frame in samples.Where(f => f >= delay))
                        if (last[frame - delay] is >= 0 and var at && !trial.MayBeLate(group.Key, at, frame - delay) && !trial.IsStale(group.Key, at, frame - delay) && source.Read(at) is { } raw)
                            pairs.Add((raw, trial.Values[frame]));
                    var distinct = pairs.Distinct().ToList();
                    if (distinct.Select(p => p.Y).Distinct().Count() < LeastValues || LineFit.Of(distinct) is not var (gain, add))
                        continue;
                    // Few values lie on a line with anything; only an echo means something then.
                    if (bits > NarrowBits || (gain is 1 && add is 0))
                        yield return (source, new FollowRule(gain, add, delay));
                }
            }
        }
    }

    private static bool IsSteady(Payloads payloads, ulong[] values)
    {
        double first = payloads.TimeUs(0);
        double span = payloads.TimeUs(payloads.Count - 1) - first;
        double rise = (double)values[^1] - values[0];
        for (int i = 0; i < values.Length; i++)
            if (Math.Abs(values[i] - values[0] - (rise * (payloads.TimeUs(i) - first) / span)) > SteadyOff)
                return false;
        return true;
    }
}
