using Locum.Model;
using Locum.Reporting;

namespace Locum.Auditing;

/// <summary>Says in one finding that a whole module fell silent, instead of once for each of its frames.</summary>
internal static class SilenceJoin
{
    /// <summary>Joins the findings from an index on.</summary>
    public static void Join(ModuleTrack module, Sink sink, int first)
    {
        var ended = sink.Findings.Skip(first).Where(f => f.Kind is FindingKind.EarlyEnd && f.Module == module.Module.Name).ToList();
        var tracks = module.Frames.OfType<FrameTrack>().Where(t => t.Seen.Count > 0).ToList();
        var last = tracks.Max(t => t.Seen[^1].StartUs);
        // All that stopped did so within two periods of the last frame of the module.
        if (ended.Count < 2 || ended.Exists(f => tracks.Find(t => t.Frame.Name == f.Frame) is not { } t || t.Seen[^1].StartUs < last - (2 * t.LongestUs) || f.LastUs < last))
            return;
        sink.Findings.RemoveAll(ended.Contains);
        sink.Add(FindingKind.EarlyEnd, module.Module, $"none of its frames any more; {Words.Count(ended.Count, "frame")} of it expected for {Words.Time(ended.Max(f => f.LastUs - f.FirstUs))} more at least",
            ended.Min(f => f.FirstUs), ended.Max(f => f.LastUs), ended.Count, module.Module.Span);
    }
}
