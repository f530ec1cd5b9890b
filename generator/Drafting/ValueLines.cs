using Locum.Inference;
using Locum.Inference.Values;

namespace Locum.Drafting;

/// <summary>Fields whose changes nothing explains; they keep a value, by stage where the start shows one.</summary>
internal static class ValueLines
{
    private const int FewValues = 6;
    private const int FewMoments = 4;
    private const int FewChanges = 20;

    /// <summary>The field; what is open about it is noted.</summary>
    public static FieldLine Field(DraftContext context, int number, ValueFinding value, int firstPhase)
    {
        var frame = context.Findings.Frames[number];
        var steady = SteadyValues.Of(context.Findings, frame, value, firstPhase);
        string text = steady.Distinct().Count() is 1 ? DraftWords.Text($"{steady[^1]}")
            : $"{{{string.Join(", ", steady.Select((v, i) => DraftWords.Text($"{context.Modes[firstPhase + i]}: {v}")))}}}";
        string seen = Seen(value);
        bool explained = IsExplained(context, value, steady);
        string says = DraftWords.Text($"{value.Place}: {text}");
        string note = explained ? "changes with the stages only" : seen;
        string comment = context.Tell(new Fact(context.FrameNames[number], "value", says, Confidence.Possible, default, "", note));
        return new FieldLine(value.Place, DraftWords.Text($"value-{value.Place.Bit}"), $"{{{DraftWords.Place(value.Place)}, value: {text}}}", comment);
    }

    /// <summary>Notes what is open about the fields; those that change together are told together.</summary>
    public static void LeaveOpen(DraftContext context, int number, IReadOnlyList<ValueFinding> values, int firstPhase)
    {
        var frame = context.Findings.Frames[number];
        var open = values.Where(v => !IsExplained(context, v, SteadyValues.Of(context.Findings, frame, v, firstPhase)));
        foreach (var group in open.GroupBy(v => v.Changes <= FewChanges ? string.Join(' ', v.History.Select(h => h.Frame)) : DraftWords.Text($"bit {v.Place.Bit}")))
        {
            var first = group.First();
            string seen = group.Count() is 1 ? Seen(first) : DraftWords.Text($"change together, {DraftWords.Count(first.Changes, "time")}");
            context.LeaveOpen(number, string.Join(", ", group.Select(v => v.Place)), $"{seen}; {Why(frame, first)}");
        }
    }

    private static bool IsExplained(DraftContext context, ValueFinding value, IReadOnlyList<ulong> steady) =>
        value.Changes < steady.Distinct().Count() && context.Findings.Start.Seen;

    private static string Seen(ValueFinding value)
    {
        string values = value.Distinct > FewValues
            ? DraftWords.Text($"{value.Distinct}{(value.Distinct == ValueFinding.MostDistinct ? " or more" : "")} values from {value.Range.Low} to {value.Range.High}")
            : $"values {string.Join(", ", value.History.Select(h => h.Value).Append(value.Initial).Distinct().Order())}";
        return DraftWords.Text($"{values} in {DraftWords.Count(value.Changes, "change")}, mostly {value.Usual}");
    }

    private static string Why(FrameFindings frame, ValueFinding value)
    {
        if (frame.Suspects.Any(s => s.Meets(value.Place)))
            return "behaves as a checksum, but none of the rules tried fits";
        if (frame.Follows.FirstOrDefault(f => f.Place == value.Place) is { } follow)
            return FollowLines.Maybe(follow);
        if (value.Changes > FewMoments)
            return "no cause found";
        long zero = frame.Series.TimesUs[0];
        return $"no cause found; changed {string.Join(", ", value.History.Select(h => DraftWords.Moment(frame.Payloads.TimeUs(h.Frame) - zero)))} after the first frame";
    }
}
