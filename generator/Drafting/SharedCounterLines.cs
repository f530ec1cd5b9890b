using Locum.Inference;

namespace Locum.Drafting;

/// <summary>The section of counters that frames share.</summary>
internal static class SharedCounterLines
{
    /// <summary>Writes the section; nothing when there are none.</summary>
    public static void Write(DraftContext context, YamlLines lines)
    {
        if (context.Findings.SharedCounters.Count is 0)
            return;
        lines.Gap();
        lines.Add(0, "counters:");
        foreach (var (a, b, shared) in context.Findings.SharedCounters)
        {
            string name = context.SharedCounters[(a, shared.A)];
            var rule = shared.Rule;
            var earlier = new[] { (Frame: context.Findings.Frames[a], Place: shared.A), (Frame: context.Findings.Frames[b], Place: shared.B) }
                .MinBy(f => f.Frame.Payloads.TimeUs(f.Frame.FirstFrame));
            ulong first = earlier.Place.Read(earlier.Frame.Payloads.Data(earlier.Frame.FirstFrame));
            string start = context.Findings.Start.Seen && rule.Has(first) && first != rule.From ? DraftWords.Text($", start: {first}") : "";
            string text = DraftWords.Text($"{{from: {rule.From}, to: {rule.To}{start}}}");
            string note = shared.Alternate ? "the frames come in turn, two counters would look the same" : "";
            var sure = shared.Alternate ? Confidence.Possible : shared.Evidence.Confidence;
            lines.Add(1, $"{name}: {text}", context.Tell(new Fact("", "shared counter", $"{context.FrameNames[a]} {shared.A}, {context.FrameNames[b]} {shared.B}: {text}", sure, shared.Evidence, "step", note)));
        }
    }
}
