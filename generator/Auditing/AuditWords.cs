using System.Globalization;
using Locum.Capture;
using Locum.Inference;
using Locum.Reporting;

namespace Locum.Auditing;

/// <summary>Sentences that all outputs of audits share.</summary>
internal static class AuditWords
{
    private const double UsPerSecond = 1e6;

    public static string Assumed => $"assumed (common practice, no source): {TypicalReceiver.Assumption}";

    public static string Extent(AuditResult result) =>
        $"{Words.Time(result.Parts.Sum(p => p.DurationUs))}, {Words.Count(result.Judged, "frame")} of the description";

    public static string Bus(AuditedBus bus) => $"bus {bus.Name}: " + bus.How switch
    {
        BusPairing.Name => $"'{bus.CaptureName}' of the capture, by its name",
        BusPairing.Identifiers => $"'{bus.CaptureName}' of the capture, by its identifiers",
        BusPairing.OnlyOne => $"'{bus.CaptureName}', the capture's only bus; no identifier speaks for it",
        _ => "not in the capture",
    };

    /// <summary>Who and what, with how sure it is where that is not certain.</summary>
    public static string Title(Finding finding)
    {
        var sure = finding.Confidence is Confidence.Certain ? "" : $" ({finding.Confidence.ToString().ToLowerInvariant()})";
        var who = finding.Frame is null ? $"module {finding.Module}" : $"{finding.Frame} {finding.Id}";
        return $"{who}: {KindWords.Title(finding.Kind)}{sure}";
    }

    /// <summary>From when to when, in the capture's time.</summary>
    public static string When(Finding finding, IReadOnlyList<RecordingPart> parts)
    {
        var start = parts[finding.Part].StartUs;
        var part = parts.Count > 1 ? $" of part {finding.Part + 1}" : "";
        return $"{At(finding.FirstUs - start)}{(finding.LastUs > finding.FirstUs ? $" to {At(finding.LastUs - start)}" : "")}{part}";
    }

    public static string Complaint(Finding finding) => finding.ComplainsUs is { } after
        ? $"a receiver complains {(after > 0 ? $"after {Words.Time(after)}" : "at once")}; it needs {finding.Recovers}"
        : "a typical receiver does not complain by this alone";

    public static string Sum(AuditResult result) => result.Findings.Count is 0 ? "no findings"
        : $"{Words.Count(result.Findings.Count, "finding")}, {result.Findings.Count(f => f.ComplainsUs is not null)} of them with a complaint of a typical receiver";

    public static string Tolerated(Tolerance tolerance) =>
        $"tolerated: {Words.Time(tolerance.InstantUs)} in time (stamps in steps of {Words.Time(tolerance.StepUs)}, wrong by up to {Words.Time(tolerance.StampUs)}; {Words.Time(Tolerance.BoardUs)} for the board), {Tolerance.PeriodShare:P0} of a period, {Tolerance.ClockShare:P0} of its mean, {Words.Time(Tolerance.ReactionUs)} to react";

    private static string At(long us) => string.Create(CultureInfo.InvariantCulture, $"{us / UsPerSecond:0.000000} s");
}
