using Locum.Capture;
using Locum.Inference.Payload;

namespace Locum.Inference.Relations;

/// <summary>Tries rules for one field on all its frames.</summary>
internal sealed class FollowTrial
{
    // A frame may have been composed this long before it ended on the wire; what ended since then may have come too late for it.
    private const long ComposedUs = 2_000;
    private const double StalePeriods = 5;
    private const double OneLimit = 0.9;

    private readonly Payloads _payloads;
    private readonly FieldPlace _place;
    private readonly int[] _parts;
    private readonly int[] _orders;
    private readonly long _lateUs;
    private readonly Dictionary<ulong, double> _log10Distances = [];
    private readonly Dictionary<FrameSeries, double> _usual = new(ReferenceEqualityComparer.Instance);
    private readonly Dictionary<FrameSeries, int[]> _last = new(ReferenceEqualityComparer.Instance);

    public FollowTrial(Payloads payloads, FrameSeries series, FieldPlace place, int quantumUs)
    {
        (_payloads, _place) = (payloads, place);
        _lateUs = ComposedUs + quantumUs;
        Values = payloads.Values(place, 0, payloads.Count);
        _parts = new int[payloads.Count];
        _orders = new int[payloads.Count];
        int run = 0;
        for (int i = 0; i < payloads.Count; i++)
        {
            while (payloads.Index(i) >= series.Runs[run].End)
                run++;
            (_parts[i], _orders[i]) = (series.Runs[run].Part, series.Orders[payloads.Index(i)]);
        }
        CountDistances();
    }

    /// <summary>The field's values.</summary>
    public ulong[] Values { get; }

    /// <summary>Of every frame the last one of another series before it; -1 where there is none.</summary>
    public int[] Last(FrameSeries source)
    {
        if (_last.TryGetValue(source, out var known))
            return known;
        var last = new int[_payloads.Count];
        int run = 0;
        int at = -1;
        for (int i = 0; i < last.Length; i++)
        {
            long time = _payloads.TimeUs(i);
            while (run < source.Runs.Count && source.Runs[run].Part < _parts[i])
                (run, at) = (run + 1, -1);
            last[i] = -1;
            if (run == source.Runs.Count || source.Runs[run].Part != _parts[i])
                continue;
            var there = source.Runs[run];
            at = Math.Max(at, there.First - 1);
            while (at + 1 < there.End && (source.TimesUs[at + 1] < time || (source.TimesUs[at + 1] == time && source.Orders[at + 1] < _orders[i])))
                at++;
            last[i] = at >= there.First ? at : -1;
        }
        return _last[source] = last;
    }

    /// <summary>Frames a frame may have missed because they came while it was on its way.</summary>
    public bool MayBeLate(FrameSeries source, int last, int frame) =>
        last > 0 && source.TimesUs[last] > _payloads.TimeUs(frame) - _lateUs;

    /// <summary>True if the source had been silent for so long that it may count as lost.</summary>
    public bool IsStale(FrameSeries source, int last, int frame)
    {
        if (!_usual.TryGetValue(source, out double usual))
            _usual[source] = usual = (source.TimesUs[source.Runs[0].End - 1] - source.TimesUs[0]) / Math.Max(1.0, source.Runs[0].Count - 1);
        return _payloads.TimeUs(frame) - source.TimesUs[last] > StalePeriods * usual;
    }

    /// <summary>The evidence for a rule. Chance: another field with the same distances between its values would have to make them at the same frames.</summary>
    public (Evidence Evidence, FollowRule Rule) Judge(SourceField source, FollowRule rule, double log10Rules)
    {
        rule = WithLimits(source, rule);
        var last = Last(source.Series);
        int tested = 0;
        int hits = 0;
        double log10 = 0;
        var distinct = new HashSet<ulong>();
        long? before = null;
        for (int i = rule.Delay; i < last.Length; i++)
        {
            if (Expected(source, rule, last, i) is not var (expected, late))
            {
                before = null;
                continue;
            }
            long value = Signed(Values[i], rule);
            bool hit = value == expected || value == late;
            bool changes = before is { } b && (b != value || b != expected);
            log10 += hit && before is not null && i > 0 ? _log10Distances[unchecked(Values[i] - Values[i - 1])] : 0;
            if (changes || !hit)
            {
                tested++;
                hits += hit ? 1 : 0;
            }
            // What stands at a limit says little about the rule.
            if (hit && value != rule.AtMost && value != rule.AtLeast)
                distinct.Add(Values[i]);
            before = value;
        }
        // A line takes two pairs to be laid; what is left of the values is what speaks for it.
        int free = rule.IsEcho ? distinct.Count : distinct.Count - 1;
        log10 = free < 2 ? 0 : log10 * (rule.IsEcho ? 1 : (distinct.Count - 2.0) / distinct.Count);
        log10 += (tested - hits) * Math.Log10(Math.Max(2, last.Length));
        return (new Evidence(tested, hits, distinct.Count, Chance.OverRules(Math.Min(0, log10), log10Rules)), rule);
    }

    /// <summary>What the rule gives for a frame, and what with the source frame before; null where the source was not heard.</summary>
    public (long Expected, long Late)? Expected(SourceField source, FollowRule rule, int[] last, int frame)
    {
        int at = last[frame - rule.Delay];
        if (at < 0 || IsStale(source.Series, at, frame - rule.Delay) || source.Read(at) is not { } raw)
            return null;
        long expected = rule.Apply(raw);
        long late = MayBeLate(source.Series, at, frame - rule.Delay) && source.Read(at - 1) is { } older ? rule.Apply(older) : expected;
        return (expected, late);
    }

    // Negative results stand in the field as two's complement.
    private long Signed(ulong value, FollowRule rule) =>
        rule.Add < 0 && _place.Bits < 64 && (value >> (_place.Bits - 1) & 1) is 1 && rule.Apply(0) < 0 ? (long)value - (1L << _place.Bits) : (long)value;

    // A value that stands, and no other, whenever the rule wants to go beyond it is a limit.
    private FollowRule WithLimits(SourceField source, FollowRule rule)
    {
        var last = Last(source.Series);
        var above = new Dictionary<long, int>();
        var below = new Dictionary<long, int>();
        for (int i = rule.Delay; i < last.Length; i++)
        {
            if (Expected(source, rule, last, i) is not var (expected, late))
                continue;
            long value = Signed(Values[i], rule);
            if (value != expected && value != late)
                Count(expected > value && late > value ? above : below, value);
        }
        return rule with { AtMost = Limit(above), AtLeast = Limit(below) };

        static void Count(Dictionary<long, int> counts, long value) => counts[value] = counts.GetValueOrDefault(value) + 1;

        static long? Limit(Dictionary<long, int> counts) =>
            counts.Count > 0 && counts.MaxBy(c => c.Value) is { Value: > 1 } most && most.Value >= OneLimit * counts.Values.Sum() ? most.Key : null;
    }

    private void CountDistances()
    {
        var counts = new Dictionary<ulong, int>();
        for (int i = 1; i < Values.Length; i++)
        {
            ulong distance = unchecked(Values[i] - Values[i - 1]);
            counts[distance] = counts.GetValueOrDefault(distance) + 1;
        }
        foreach (var (distance, count) in counts)
            _log10Distances[distance] = Math.Log10((double)count / (Values.Length - 1));
    }
}
