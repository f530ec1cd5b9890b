using Locum.Capture;
using Locum.Inference.Buses;
using Locum.Inference.Counting;
using Locum.Inference.Relations;
using Locum.Inference.Starting;
using Locum.Inference.Timing;
using Locum.Inference.Values;
using Locum.Wire;

namespace Locum.Inference;

/// <summary>Finds out about a module from the identifiers it sent.</summary>
public static class ModuleInference
{
    private const long StartWindowUs = 5_000_000;
    private const long StartValuesUs = 2_000_000;
    private const int MostStartChanges = 8;
    private const double LateStart = 1.05;

    /// <summary>All findings. Series that are not chosen count as other nodes' frames.</summary>
    /// <param name="recording">The recording.</param>
    /// <param name="chosen">The module's series, at least one.</param>
    /// <param name="rate">Bit rate of the buses if known, bit/s.</param>
    public static ModuleFindings Find(Recording recording, IReadOnlyList<FrameSeries> chosen, int? rate = null)
    {
        int quantum = TimeStamps.QuantumUs(recording);
        var buses = chosen.Select(s => s.Bus).Distinct().Order().Select(b => BusFinder.Find(recording, b, quantum)).ToList();
        var frames = InParallel(chosen, s => FrameInference.Look(s, recording, quantum));
        var starts = StartFinder.Find(recording, [.. frames.Select(f => (f.Series, f.Sending))]);
        var start = StartFinder.Best(starts);
        frames = Placed(frames, start, f => WireUs(f, rate ?? buses.First(b => b.Bus == f.Series.Bus).SeenRate));
        frames = InParallel(frames, FrameInference.Explain);
        frames = Related(recording, frames, quantum);
        return new ModuleFindings
        {
            Recording = recording,
            QuantumUs = quantum,
            Buses = buses,
            Frames = frames,
            Starts = starts,
            Start = start,
            Phases = Phases(frames, starts, start),
            SharedCounters = Shared(frames),
        };
    }

    private static IReadOnlyList<TResult> InParallel<T, TResult>(IReadOnlyList<T> items, Func<T, TResult> work)
    {
        var results = new TResult[items.Count];
        Parallel.For(0, items.Count, i => results[i] = work(items[i]));
        return results;
    }

    // A time stamp marks the end of a frame; without a known rate the frame's length is neglected.
    private static double WireUs(FrameFindings frame, int? rate) => rate is null || frame.Series.Count is 0 ? 0
        : WireLength.Of(frame.Series.Id, frame.Series.Format(frame.First.First), frame.Series.Data(frame.First.First)).TimeUs(rate.Value, null);

    private static IReadOnlyList<FrameFindings> Placed(IReadOnlyList<FrameFindings> frames, ModuleStart start, Func<FrameFindings, double> wireUs)
    {
        var first = frames.Select(f => f with { First = FirstOf(f, start) }).ToList();
        var releases = first.Select(f => f.First.ReleaseUs - wireUs(f)).ToList();
        // Frames that only come in other parts of the recording say nothing about this start.
        double zero = first.Zip(releases).Where(p => p.First.First.Part == start.Part).Select(p => p.Second).DefaultIfEmpty(0).Min();
        return [.. first.Zip(releases, (f, r) => f with
        {
            OffsetUs = f.First.Part == start.Part ? Math.Max(0, r - zero) : 0,
            FirstFrame = Enumerable.Range(0, f.Payloads.Count).FirstOrDefault(i => f.Payloads.Index(i) >= f.First.First),
        })];
    }

    private static Stretch FirstOf(FrameFindings frame, ModuleStart start)
    {
        var inPart = frame.Sending.Stretches.Where(s => s.Part == start.Part && frame.Series.TimesUs[s.First] is var t && t >= start.TimeUs && t < start.UntilUs).ToList();
        return inPart.Count > 0 ? inPart[0] : frame.Sending.Stretches[0];
    }

    private static IReadOnlyList<FrameFindings> Related(Recording recording, IReadOnlyList<FrameFindings> frames, int quantumUs)
    {
        var own = frames.Select(f => f.Series).ToHashSet();
        var buses = own.Select(s => s.Bus).ToHashSet();
        var others = recording.Series.Where(s => !own.Contains(s) && buses.Contains(s.Bus)).ToList();
        bool varies = frames.Any(f => f.Values.Any(v => v.Distinct > 1));
        var sources = varies ? InParallel(others, SourceFields.Of).SelectMany(s => s).ToList() : [];
        var finder = new FollowFinder(sources, quantumUs);
        return InParallel(frames, f =>
        {
            if (f.Transport is not null)
                return f;
            var follows = f.Values.Select(v => finder.Find(f.Payloads, f.Series, v.Place)).OfType<FollowFinding>().ToList();
            f = f with
            {
                Follows = follows,
                Values = [.. f.Values.Where(v => !follows.Exists(w => w.Confidence > Confidence.Possible && w.Place == v.Place))],
            };
            return f with
            {
                Change = ChangeFinder.Find(f),
                Answer = AnswerFinder.Find(f.Series, f.Sending, others, recording.Parts, quantumUs),
            };
        });
    }

    private static PhaseFinding Phases(IReadOnlyList<FrameFindings> frames, IReadOnlyList<ModuleStart> starts, ModuleStart start)
    {
        if (!start.Seen)
            return PhaseFinding.None;
        int most = MostStartChanges * starts.Count;
        var others = starts.Where(s => s.Seen && s != start).Select(s => Hints(frames, s, most)).ToList();
        return PhaseFinder.Find(Hints(frames, start, most), others, StartWindowUs);
    }

    private static IReadOnlyList<PhaseFinder.Hint> Hints(IReadOnlyList<FrameFindings> frames, ModuleStart start, int mostChanges)
    {
        var hints = new List<PhaseFinder.Hint>();
        foreach (var frame in frames.Where(f => f.Answer is null))
        {
            double period = frame.Sending.MeanUs;
            var times = frame.Series.TimesUs;
            var stretch = frame.Sending.Stretches.FirstOrDefault(s => s.Part == start.Part && frame.Series.TimesUs[s.First] >= start.TimeUs && frame.Series.TimesUs[s.First] < start.UntilUs);
            if (stretch.Count is 0)
                continue;
            long offset = times[stretch.First] - start.TimeUs;
            if (period > 0 && offset > LateStart * period && offset < StartWindowUs)
                hints.Add(new PhaseFinder.Hint(offset - (long)period, offset));
            foreach (var value in frame.Values.Where(v => v.Changes <= mostChanges))
                foreach (var (number, _) in value.History)
                    if (number > 0 && frame.Payloads.Index(number) is var index && index > stretch.First && index < stretch.End && times[index] - start.TimeUs < StartValuesUs)
                        hints.Add(new PhaseFinder.Hint(Math.Max(0, times[index - 1] - start.TimeUs), times[index] - start.TimeUs));
        }
        return hints;
    }

    private static List<(int A, int B, SharedCounterFinder.Shared Shared)> Shared(IReadOnlyList<FrameFindings> frames)
    {
        var places = frames.Select(Candidates).ToList();
        var found = new List<(int, int, SharedCounterFinder.Shared)>();
        var used = new HashSet<int>();
        for (int a = 0; a < frames.Count; a++)
            for (int b = a + 1; b < frames.Count; b++)
                if (!used.Contains(a) && !used.Contains(b) && places[a].Count > 0 && places[b].Count > 0
                    && SharedCounterFinder.Find(frames[a].Payloads, places[a], frames[b].Payloads, places[b]) is { } shared)
                {
                    found.Add((a, b, shared));
                    used.UnionWith([a, b]);
                }
        return found;
    }

    private static IReadOnlyList<FieldPlace> Candidates(FrameFindings frame)
    {
        if (frame.Transport is not null || frame.Payloads.Length is 0)
            return [];
        var taken = frame.Checksums.SelectMany(Checksums.ChecksumBits.Of)
            .Concat(frame.Counters.SelectMany(c => c.Place.Positions())).Concat(frame.Pages?.Bits ?? []).ToHashSet();
        return SharedCounterFinder.Candidates(frame.Payloads, frame.Activity, frame.Counters, taken.Contains);
    }
}
