using Locum.Capture;
using Locum.Inference;
using Locum.Model;
using Locum.Reporting;

namespace Locum.Auditing;

/// <summary>Holds the board's frames against those of the real module in another capture.</summary>
/// <param name="original">The other capture.</param>
/// <param name="buses">Its bus for each bus of the plan.</param>
internal sealed class OriginalCheck(Recording original, IReadOnlyList<int?> buses, long stepUs, Sink sink)
{
    private const int Enough = 5;
    private const double StartShare = 0.2;
    private const long StartUs = 50_000;

    /// <param name="view">The part of the board's capture with the most frames.</param>
    public void Check(PartView view, IReadOnlySet<FrameTrack> ignored)
    {
        var tolerance = view.Tolerance;
        foreach (var track in view.Frames.Where(t => t.Bus is not null && t.Frame.IsDescribed && !ignored.Contains(t)))
        {
            if (buses[track.Planned.Bus] is not { } bus)
            {
                sink.Skip($"{track.Frame.Name} against the original: the original does not have the bus");
                continue;
            }
            var there = original.Find(bus, track.Frame.Id);
            var here = view.Recording.Find(view.BusNumbers[track.Planned.Bus]!.Value, track.Frame.Id);
            if (there is null || here is null)
            {
                if (here is not null)
                    sink.Skip($"{track.Frame.Name} against the original: it is not in that capture");
                continue;
            }
            var (old, now) = (new SeriesFacts(there), new SeriesFacts(here));
            CheckPeriod(track, old, now, tolerance);
            CheckLengths(track, there, here);
            CheckBits(track, old, now);
            CheckStart(track, view, bus);
        }
    }

    private void CheckPeriod(FrameTrack track, SeriesFacts old, SeriesFacts now, Tolerance tolerance)
    {
        if (!track.IsPlain || track.Frame.PeriodByMode.Count > 0 || old.Distances < Enough || now.Distances < Enough)
            return;
        var allowed = tolerance.PeriodUs((long)old.PeriodUs, Math.Min(old.Distances, now.Distances)) + (2.0 * stepUs / old.Distances);
        if (Math.Abs(old.PeriodUs - now.PeriodUs) > allowed)
            Add(FindingKind.Period, track, $"sent every {Words.Time(now.PeriodUs)}, the original every {Words.Time(old.PeriodUs)}", now.Series, Confidence.Certain);
        else if (now.JitterUs > (2 * old.JitterUs) + tolerance.LateUs((long)old.PeriodUs) + (2 * stepUs))
            Add(FindingKind.Jitter, track, $"95 of 100 distances within {Words.Time(now.JitterUs)} of the period, of the original within {Words.Time(old.JitterUs)}", now.Series, Confidence.Likely);
    }

    private void CheckLengths(FrameTrack track, FrameSeries there, FrameSeries here)
    {
        if (here.ShortestLength >= there.ShortestLength && here.LongestLength <= there.LongestLength)
            return;
        Add(FindingKind.Shape, track, $"{Range(here)} bytes, the original has {Range(there)}", here, Confidence.Certain);

        static string Range(FrameSeries s) => s.ShortestLength == s.LongestLength ? $"{s.LongestLength}" : $"{s.ShortestLength} to {s.LongestLength}";
    }

    // Bits that lived in the original and stand still here, and bits that never moved and differ.
    private void CheckBits(FrameTrack track, SeriesFacts old, SeriesFacts now)
    {
        var frozen = new List<(int Position, double Chance)>();
        var other = new List<int>();
        for (var position = 0; position < 8 * Math.Min(old.Series.LongestLength, now.Series.LongestLength); position++)
        {
            var (before, after) = (old.Bit(position), now.Bit(position));
            if (before.Steps is 0 || after.Steps is 0 || after.Changes > 0)
                continue;
            if (before.Changes > 0)
            {
                // Changes that come in bunches count once.
                var changes = Math.Min(before.Changes, (double)before.Steps / Math.Max(1, before.Quiet));
                var chance = ZeroCount.Log10Chance(changes, before.Steps, after.Steps);
                if (chance < Evidence.LikelyLog10)
                    frozen.Add((position, chance));
            }
            else if (((old.Series.Data(0)[position / 8] ^ now.Series.Data(0)[position / 8]) >> (position % 8) & 1) is not 0)
            {
                other.Add(position);
            }
        }
        foreach (var group in frozen.GroupBy(f => FieldAt(track, f.Position) is { } field ? field.Name : $"byte {f.Position / 8}"))
            Add(FindingKind.Frozen, track, $"{group.Key} stands still; it lived in the original ({Words.Count(group.Count(), "bit")})", now.Series,
                group.Min(g => g.Chance) < Evidence.CertainLog10 ? Confidence.Certain : Confidence.Likely, FieldAt(track, group.First().Position));
        foreach (var group in other.GroupBy(p => FieldAt(track, p) is { } field ? field.Name : $"byte {p / 8}"))
            Add(FindingKind.Original, track, $"{group.Key} is always another value than in the original ({Words.Count(group.Count(), "bit")})", now.Series, Confidence.Possible, FieldAt(track, group.First()));
    }

    // From the first traffic of a bus to the frame, where both captures show a bus that wakes.
    private void CheckStart(FrameTrack track, PartView view, int bus)
    {
        var now = Wake(view.Recording, view.PartNumber, view.BusNumbers[track.Planned.Bus]!.Value, track);
        var then = Enumerable.Range(0, original.Parts.Count).Select(p => Wake(original, p, bus, track)).FirstOrDefault(w => w is not null);
        if (now is not { } here || then is not { } there)
        {
            sink.Skip("time from the wake-up of a bus to the first frame: both captures must begin before it");
            return;
        }
        if (here.DelayUs > there.DelayUs + Math.Max(StartUs, (long)(StartShare * there.DelayUs)) + view.Tolerance.InstantUs)
            sink.Findings.Add(Finding(FindingKind.LateStart, track, $"first frame {Words.Time(here.DelayUs)} after the bus woke up, of the original after {Words.Time(there.DelayUs)}", here.FirstUs, here.FirstUs, Confidence.Likely, null));
    }

    private static (long DelayUs, long FirstUs)? Wake(Recording recording, int part, int bus, FrameTrack track)
    {
        var series = recording.Find(bus, track.Frame.Id);
        var run = series?.Runs.FirstOrDefault(r => r.Part == part) ?? default;
        if (run.Count is 0)
            return null;
        var first = series!.TimesUs[run.First];
        var woke = recording.Series.Where(s => s.Bus == bus).SelectMany(s => s.Runs.Where(r => r.Part == part).Select(r => s.TimesUs[r.First])).Min();
        // A frame that comes within its first period may have come before the capture as well.
        return first - woke > Math.Max(track.LongestUs, track.Frame.OffsetUs) ? (first - woke, first) : null;
    }

    private static Field? FieldAt(FrameTrack track, int position) => track.Frame.Fields.FirstOrDefault(f => f.Positions().Contains(position));

    private void Add(FindingKind kind, FrameTrack track, string message, FrameSeries series, Confidence confidence, Field? field = null) =>
        sink.Findings.Add(Finding(kind, track, message, series.TimesUs[0], series.TimesUs[^1], confidence, field) with { Count = series.Count });

    private static Finding Finding(FindingKind kind, FrameTrack track, string message, long first, long last, Confidence confidence, Field? field) => new()
    {
        Kind = kind,
        Module = track.Planned.Owner.Module.Name,
        Frame = track.Frame.Name,
        Id = track.Frame.Id.ToString(),
        Message = message,
        FirstUs = first,
        LastUs = last,
        Count = 1,
        Span = field?.Span ?? track.Frame.Span,
        Confidence = confidence,
    };
}
