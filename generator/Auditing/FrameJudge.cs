using Locum.Model;
using Locum.Reporting;

namespace Locum.Auditing;

/// <summary>Judges the payloads of a frame in their order; a frame with pages is taken as the page that fits best.</summary>
internal sealed class FrameJudge
{
    private static readonly int[] s_first = [0];

    private readonly FrameTrack _track;
    private readonly PageJudge[] _pages;

    public FrameJudge(FrameTrack track, Module module)
    {
        _track = track;
        var lags = track.Frame.AllFields.Where(f => f.Source is LiveValue { Live: Lag })
            .ToDictionary(f => f, _ => new LagRange(), ReferenceEqualityComparer.Instance as IEqualityComparer<Field>);
        _pages = !track.Frame.IsDescribed ? [] : [.. track.Frame.Variants.Select(v => new PageJudge(v, track.Modes, module.Counters, lags))];
    }

    /// <summary>The field of a counter on a page; null when the page does not carry it.</summary>
    public Field? Counter(int page, int counter) => _pages.Length is 0 ? null : _pages[page].Counters.GetValueOrDefault(counter);

    public Verdict Judge(in Seen seen, IReadOnlyList<Hearing> hearings)
    {
        var data = _track.Data(seen);
        if (_pages.Length is 0)
            return new Verdict(s_first, _track.Modes, []);
        if (data.Length != _track.Frame.Length)
            return new Verdict([], _track.Modes, [new Fault(FaultKind.Shape, null, 0, $"{_track.Frame.Length} bytes, not {data.Length}")]);
        if (_track.Format(seen) != _track.Frame.Format)
            return new Verdict([], _track.Modes, [new Fault(FaultKind.Shape, null, 0, Wire.FormatWords.Of(_track.Frame.Format))]);
        var received = new ReceivedChoice(hearings, seen.FromUs - Tolerance.ReactionUs, seen.UntilUs);
        List<int> best = [];
        List<Fault>? least = null;
        var modes = 0UL;
        foreach (var page in Likely(data))
        {
            var faults = _pages[page].Judge(data, received);
            if (least is not null && faults.Count > least.Count)
                continue;
            if (least is null || faults.Count < least.Count)
            {
                best.Clear();
                modes = 0;
            }
            least = faults;
            best.Add(page);
            modes |= _pages[page].Modes(data);
        }
        return new Verdict(best.Count is 1 && best[0] is 0 ? s_first : best, modes is 0 ? _track.Modes : modes, least!);
    }

    // The pages with the fewest wrong fixed bits.
    private List<int> Likely(ReadOnlySpan<byte> data)
    {
        if (_pages.Length is 1)
            return [0];
        var least = int.MaxValue;
        var likely = new List<int>();
        for (var page = 0; page < _pages.Length; page++)
        {
            var distance = _pages[page].Distance(data);
            if (distance < least)
                likely.Clear();
            if (distance <= least)
            {
                likely.Add(page);
                least = distance;
            }
        }
        return likely;
    }
}
