using Locum.Inference;

namespace Locum.Drafting;

/// <summary>What the recording shows of the module's end: when its frames stop, and whether others go on.</summary>
internal static class EndLines
{
    private const long SilenceUs = 500_000;
    private const double MissedPeriods = 3;

    /// <summary>Notes the end for summary and description; an empty text when frames came to the end of the recording.</summary>
    public static string Tell(DraftContext context)
    {
        var findings = context.Findings;
        var part = findings.Recording.Parts[findings.Start.Part];
        var last = findings.Frames.Select((f, i) => (Frame: f, Index: i, TimeUs: Last(f, findings.Start.Part)))
            .Where(l => l.TimeUs >= 0 && part.EndUs - l.TimeUs > Math.Max(SilenceUs, MissedPeriods * l.Frame.Sending.MeanUs)).ToList();
        if (last.Count is 0)
            return "";
        bool all = last.Count == findings.Frames.Count;
        long from = last.Min(l => l.TimeUs) - part.StartUs;
        long to = last.Max(l => l.TimeUs) - part.StartUs;
        string who = all ? "all frames" : string.Join(", ", last.Select(l => context.FrameNames[l.Index]));
        string when = to - from < SilenceUs / 10 ? DraftWords.Moment(to) : $"{DraftWords.Moment(from)} to {DraftWords.Moment(to)}";
        string says = $"the last of {who} {when} after the recording began, which goes on until {DraftWords.Moment(part.DurationUs)}";
        return context.Tell(new Fact("", "end", says, Confidence.Possible, default, "", "what ends it is not on the bus"));
    }

    private static long Last(FrameFindings frame, int part) =>
        frame.Sending.Stretches.Where(s => s.Part == part).Select(s => frame.Series.TimesUs[s.End - 1]).DefaultIfEmpty(-1).Max();
}
