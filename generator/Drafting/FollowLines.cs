using System.Globalization;
using Locum.Inference;
using Locum.Inference.Payload;
using Locum.Inference.Relations;

namespace Locum.Drafting;

/// <summary>Fields that follow other nodes' fields.</summary>
internal static class FollowLines
{
    /// <summary>Name of the field that begins at a place.</summary>
    public static string Name(FieldPlace place) => DraftWords.Text($"follow-{place.Bit}");

    /// <summary>The field.</summary>
    public static FieldLine Field(DraftContext context, int number, FollowFinding follow, Widening widening)
    {
        var frame = context.Findings.Frames[number];
        var place = widening.Number(follow.Place);
        var source = Payloads.Of(follow.Source, Inference.Timing.SteadyNumber.StepsByRun(follow.Source));
        var from = context.Receives.Field(follow.Source, new Widening(BitActivity.Of(source), []).Number(follow.From), follow.TimeoutUs);
        var rule = follow.Rule;
        var parts = new List<string> { $"from: {from}" };
        if (rule.Gain != 1)
            parts.Add($"gain: {Number(rule.Gain)}");
        if (rule.Add != 0)
            parts.Add($"add: {Number(rule.Add)}");
        if (rule.AtLeast is { } low)
            parts.Add(DraftWords.Text($"at least: {low}"));
        if (rule.AtMost is { } high)
            parts.Add(DraftWords.Text($"at most: {high}"));
        if (rule.Delay > 0 && frame.Sending.IsCyclic && frame.Sending.BurstCount is 0)
            parts.Add($"delay: {DraftWords.Time(rule.Delay * frame.Sending.NominalUs)}");
        string text = parts.Count is 1 ? from : $"{{{string.Join(", ", parts)}}}";
        ulong lost = follow.Lost ?? 0;
        var fact = new Fact(context.FrameNames[number], "follows", $"{place}: {follow.Source.Id} {follow.From}{Says(rule)}", follow.Confidence, follow.Evidence, "change", Notes(follow));
        return new FieldLine(place, Name(place), DraftWords.Text($"{{{DraftWords.Place(place)}, follow: {text}, lost: {lost}}}"), context.Tell(fact));
    }

    /// <summary>Words for a rule that is only possible.</summary>
    public static string Maybe(FollowFinding follow) => $"may follow {follow.Source.Id} {follow.From}{Says(follow.Rule)}{(follow.Steady ? ", as anything that moves evenly" : "")}";

    private static string Says(FollowRule rule) =>
        (rule.Gain is 1 ? "" : $" · {Number(rule.Gain)}") + (rule.Add is 0 ? "" : $" {(rule.Add < 0 ? "-" : "+")} {Number(Math.Abs(rule.Add))}")
        + (rule.Delay is 0 ? "" : DraftWords.Text($", {DraftWords.Count(rule.Delay, "release")} later"));

    private static string Notes(FollowFinding follow)
    {
        var notes = new List<string> { DraftWords.Count(follow.Evidence.Distinct, "value") };
        if (follow.Others > 0)
            notes.Add($"{DraftWords.Count(follow.Others, "other identifier")} would do as well");
        if (follow.Lost is null)
            notes.Add("what it is when that frame is lost was not seen");
        return string.Join("; ", notes);
    }

    private static string Number(decimal value) => value.ToString("0.#########", CultureInfo.InvariantCulture);
}
