using Locum.Inference.Timing;

namespace Locum.Inference.Relations;

/// <summary>Finds frames that are sent when one of their fields changes.</summary>
internal static class ChangeFinder
{
    private const int LeastFrames = 3;
    private const double LeastShare = 0.7;

    /// <summary>The fields whose change sends the frame; null when changes come with the period as well as without.</summary>
    public static ChangeFinding? Find(FrameFindings frame)
    {
        var series = frame.Series;
        List<FieldPlace> places = [.. frame.Follows.Select(f => f.Place).Concat(frame.Values.Select(v => v.Place)).Distinct()];
        var asked = frame.Sending.Kind is SendingKind.Events
            ? [.. Enumerable.Range(1, series.Count - 1)]
            : frame.Sending.Extras.Where(i => i > 0).ToList();
        if (asked.Count < LeastFrames || places.Count is 0)
            return null;
        var changing = places.Where(p => asked.Count(i => Changes(frame, p, i)) >= LeastShare * asked.Count / places.Count).ToList();
        int hits = asked.Count(i => changing.Exists(p => Changes(frame, p, i)));
        if (hits < LeastShare * asked.Count)
            return null;
        int changes = Enumerable.Range(1, series.Count - 1).Count(i => changing.Exists(p => Changes(frame, p, i)));
        // Frames of events alone have nothing to be compared with.
        double share = frame.Sending.Kind is SendingKind.Events ? 1 : Math.Min(0.9, (changes - hits + 1.0) / (series.Count - asked.Count));
        return new ChangeFinding(changing, new Evidence(asked.Count, hits, hits, Chance.OverRules(Chance.Log10Tail(asked.Count, hits, share), Math.Log10(places.Count))));
    }

    private static bool Changes(FrameFindings frame, FieldPlace place, int index)
    {
        var before = frame.Series.Data(index - 1);
        var now = frame.Series.Data(index);
        return place.IsInside(before.Length) && place.IsInside(now.Length) && place.Read(before) != place.Read(now);
    }
}
