using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>Searches the payloads of one length: every kind of rule at every place, then against every payload.</summary>
internal sealed class LengthSearch
{
    /// <summary>Different payloads below which nothing can be told.</summary>
    public const int LeastDistinct = 3;

    private const int ByteBits = 8;
    private const int ClassicLength = 8;

    // Up to this length any polynomial is sought even where the payloads do not tell which bytes depend on the others.
    private const int ShortLength = 16;

    // With fewer independent differences some polynomial fits by chance.
    private const int LeastRank = 4;

    // Long payloads: a place that stays the same this often while others change is no checksum over them.
    private const double LeastChanging = 0.6;

    private readonly PayloadSet _set;
    private readonly CanId _id;
    private readonly Tally _tally;
    private readonly List<Verified> _verified = [];
    private readonly SearchSpace _space;
    private readonly HashSet<ChecksumPlace> _solved = [];

    /// <summary>Prepares a search.</summary>
    public LengthSearch(PayloadSet set, CanId id, Tally tally)
    {
        _set = set;
        _id = id;
        _tally = tally;
        _space = SearchSpace.Of(set.Length);
        Counters = CounterField.Find(set);
    }

    /// <summary>Fields that count.</summary>
    public IReadOnlyList<CounterField> Counters { get; }

    /// <summary>All rules that the payloads satisfy, but for a few that may be corrupted.</summary>
    public IReadOnlyList<Verified> Run()
    {
        if (_set.Distinct < LeastDistinct)
            return [];
        _tally.Add(_space);
        foreach (var sample in Sampling.Of(_set, null))
        {
            Try(sample);
            if (_verified.Exists(v => v.Contradictions is 0))
                break;
        }

        Folded();

        // A CRC without a secret is one with a secret as well, when read backwards from another byte.
        if (!_verified.Exists(v => v.Fit is CrcFit))
            Secrets();
        return _verified;
    }

    private void Try(Sample sample)
    {
        var plain = new PlainSearch(_set, sample);
        var crc = new CrcSearch(_set);
        var changing = _set.Length > ClassicLength ? Changing() : null;
        bool any = sample.Rank >= LeastRank && (_set.Length <= ShortLength || sample.IsTelling);
        foreach (var spot in _space.Small)
        {
            var place = spot.Place;
            if (_solved.Contains(place) || !sample.Changes(place))
                continue;
            Verify(plain.Find(spot));
            if (place.Bits >= ByteBits && (changing is null || changing[place.FirstByte]) && sample.Determines(place))
                Verify(any ? crc.Find(spot, sample, null) : KnownCrcSearch.Find(_set, spot, sample));
        }

        foreach (var spot in _space.Wide)
        {
            if (!_solved.Contains(spot.Place) && sample.Changes(spot.Place) && sample.Determines(spot.Place))
                Verify(KnownCrcSearch.Find(_set, spot, sample));
        }

        foreach (var verified in _verified)
            _solved.Add(verified.Fit.Place);
    }

    // The J1939 checksum has 3 bits, whose nibble may change in one bit only, so every nibble is tried on all payloads.
    private void Folded()
    {
        if (!_id.Extended)
            return;
        var all = new ByteRange([.. Enumerable.Range(0, _set.Length)], true, 0);
        foreach (var place in _space.Small.Select(s => s.Place).Where(p => p.Bits is 4 && !_solved.Contains(p)))
            Verify([new J1939Fit(place, all, _id)]);
    }

    private void Secrets()
    {
        var crc = new CrcSearch(_set);
        foreach (var counter in Counters.Where(c => c.Place.Bits is 4))
        {
            foreach (bool parity in new[] { true, false })
            {
                var classes = new CounterClasses(counter.Place, parity);
                _tally.Add(RuleFamily.Secret, Bytes(classes).Sum(s => CrcSearch.Count(s, classes)));
                foreach (var sample in Sampling.Of(_set, classes))
                {
                    if (TrySecret(crc, sample, classes))
                        break;
                }
            }
        }
    }

    private bool TrySecret(CrcSearch crc, Sample sample, CounterClasses classes)
    {
        int before = _verified.Count;
        foreach (var spot in Bytes(classes))
        {
            if (!_solved.Contains(spot.Place) && sample.Changes(spot.Place) && sample.Determines(spot.Place))
                Verify(crc.Find(spot, sample, classes));
        }

        for (int i = before; i < _verified.Count; i++)
            _solved.Add(_verified[i].Fit.Place);
        return _verified.Count > before;
    }

    // In long payloads only the byte before the counter's, where the profiles have it.
    private IEnumerable<SearchSpace.Spot> Bytes(CounterClasses classes) =>
        _space.Small.Where(s => s.Place.Bits is ByteBits && !s.Place.Overlaps(classes.Counter)
            && (_set.Length <= ClassicLength || s.Place.FirstByte == classes.Counter.FirstByte - 1));

    private void Verify(IEnumerable<Fit> fits)
    {
        foreach (var fit in fits)
        {
            if (Verified.Try(fit, _set) is { } verified && (fit is not J1939Fit || verified.Constants[0] is 0UL))
                _verified.Add(verified);
        }
    }

    // For each byte, whether it changes with most changes of the payload.
    private bool[] Changing()
    {
        var changes = new int[_set.Length];
        for (int i = 1; i < _set.Distinct; i++)
        {
            for (int b = 0; b < changes.Length; b++)
                changes[b] += _set[i][b] != _set[i - 1][b] ? 1 : 0;
        }

        return [.. changes.Select(c => c >= LeastChanging * (_set.Distinct - 1))];
    }
}
