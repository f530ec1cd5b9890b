using Locum.Inference;
using Locum.Inference.Checksums;
using Locum.Inference.Relations;
using Locum.Wire;

namespace Locum.Drafting;

/// <summary>The section of one frame.</summary>
/// <param name="context">The draft.</param>
/// <param name="number">Number of the frame in the findings.</param>
internal sealed class FrameLines(DraftContext context, int number)
{
    private readonly FrameFindings _frame = context.Findings.Frames[number];

    private string Name => context.FrameNames[number];

    /// <summary>Writes the section.</summary>
    public void Write(YamlLines lines)
    {
        var series = _frame.Series;
        lines.Gap();
        lines.Comment(1, Seen());
        if (J1939Group.Of(series.Id) is { } group)
            lines.Comment(1, group.ToString());
        lines.Add(1, $"{Name}:");
        if (context.BusNames.Count > 1)
            lines.Add(2, $"bus: {context.BusNames[series.Bus]}");
        lines.Add(2, DraftWords.Text($"id: 0x{(series.Id.Extended ? $"{series.Id.Value:X8}" : $"{series.Id.Value:X3}")}"));
        if (series.Id is { Extended: true, Value: <= CanId.MaxStandard })
            lines.Add(2, "id kind: 29 bit");
        if (_frame.Format is not FrameFormat.Classic)
            lines.Add(2, "format: fd");
        if (_frame.Format is FrameFormat.Fd)
            lines.Add(2, "switch rate: no");
        int length = _frame.Payloads.Length;
        lines.Add(2, DraftWords.Text($"length: {length}"), context.Tell(new Fact(Name, "length", DraftWords.Text($"{length}"), _frame.LengthEvidence.Confidence, _frame.LengthEvidence, "frame")));
        if (_frame.LengthEvidence.Contradictions > 0)
            context.LeaveOpen(number, "", DraftWords.Text($"{_frame.LengthEvidence.Contradictions} frames of other lengths, from {series.ShortestLength} to {series.LongestLength} bytes"));
        var sending = new SendingLines(context, number);
        sending.Write(lines);
        WritePayload(lines, sending.FirstPhase);
    }

    private string Seen()
    {
        var times = _frame.Series.TimesUs;
        var part = context.Findings.Recording.Parts[_frame.First.Part];
        string seen = DraftWords.Text($"{_frame.Series.Id}: {DraftWords.Count(_frame.Series.Count, "frame")}, the first {DraftWords.Moment(times[_frame.First.First] - part.StartUs)} after the recording began");
        if (_frame.Sending.Stretches.Count > 1)
            seen += DraftWords.Text($", {_frame.Sending.Stretches.Count} stretches");
        return seen;
    }

    private void WritePayload(YamlLines lines, int firstPhase)
    {
        // Checksums last, in the order in which they read one another.
        List<FieldLine> fields = [.. Fields(firstPhase).OrderBy(f => f.Place.Bit), .. ChecksumLines.Fields(context, number)];
        var protect = ChecksumLines.Protect(context, number);
        List<FieldPlace> described = [.. fields.Select(f => f.Place), .. protect is null ? [] : _frame.Checksums.Where(ChecksumLines.IsProtected).SelectMany(ChecksumBits.Of).Select(b => new FieldPlace(b, 1))];
        if (_frame.Pages is null && _frame.Payloads.Length > 0)
        {
            var evidence = new Evidence(_frame.Payloads.Count, _frame.Payloads.Count, 1, 0);
            string note = DraftWords.Text($"{_frame.ConstantBits} of {_frame.Activity.Bits} bits never change");
            string bytes = DraftWords.Bytes(FrameBase.Of(_frame, described));
            lines.Add(2, $"base: {bytes}", context.Tell(new Fact(Name, "constant bits", bytes, Confidence.Likely, evidence, "frame", note)));
        }
        if (fields.Count > 0)
            lines.Add(2, "fields:");
        foreach (var field in fields)
            lines.Add(3, $"{field.Name}: {field.Text}", field.Comment);
        if (protect is var (text, comment))
            lines.Add(2, text, comment);
        if (_frame.Pages is { } pages)
        {
            string by = pages.Selector is { } selector ? $"told apart by {selector}" : "";
            lines.Add(2, "payloads:", context.Tell(new Fact(Name, "payloads in turn", DraftWords.Text($"{pages.Pages.Count}"), pages.Evidence.Confidence, pages.Evidence, "frame a round later", by)));
            foreach (var varying in pages.Varying.GroupBy(v => v.Page))
                context.LeaveOpen(number, DraftWords.Text($"bits {varying.Min(v => v.Bit)}..{varying.Max(v => v.Bit)}"), DraftWords.Text($"vary on payload {varying.Key + 1} of {pages.Pages.Count}; no cause found"));
            foreach (byte[] page in pages.Pages)
                lines.Add(3, $"- {DraftWords.Bytes(FrameBase.Cleared(page, described))}");
        }
    }

    private IEnumerable<FieldLine> Fields(int firstPhase)
    {
        var widening = Widening.Of(_frame);
        foreach (var counter in _frame.Counters.Where(c => !IsShared(c.Place)))
            yield return CounterLines.Own(context, number, counter, widening);
        foreach (var ((frame, place), name) in context.SharedCounters)
            if (frame == number)
                yield return CounterLines.Shared(context, number, place, name);
        foreach (var follow in _frame.Follows.Where(f => f.Confidence > Confidence.Possible))
            yield return FollowLines.Field(context, number, follow, widening);
        var values = _frame.Values.Where(v => !IsShared(v.Place)).ToList();
        ValueLines.LeaveOpen(context, number, values, firstPhase);
        foreach (var value in values)
            yield return ValueLines.Field(context, number, value, firstPhase);
    }

    // What a shared counter's field covers is no field of its own.
    private bool IsShared(FieldPlace place) => context.SharedCounters.Keys.Any(k => k.Frame == number && k.Place.Meets(place));
}
