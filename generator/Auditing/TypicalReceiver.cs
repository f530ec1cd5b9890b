using Locum.Planning;
using Locum.Protection;

namespace Locum.Auditing;

/// <summary>
/// When a usual receiver would complain: common practice, no source. It takes a frame as lost after five periods without
/// one, and distrusts a frame by the rules of <see cref="E2EWindow.Usual"/>, protected or not.
/// </summary>
internal static class TypicalReceiver
{
    public const int LostPeriods = 5;

    /// <summary>How long a tester waits for an answer, µs (ISO 14229-2: P2 of 50 ms, from memory).</summary>
    public const long TesterUs = 50_000;

    /// <summary>The assumption in a sentence.</summary>
    public static string Assumption { get; } =
        $"a receiver complains when a cyclic frame is {LostPeriods} periods late, when more than {E2EWindow.Usual.ErrorsInValid} of the newest {E2EWindow.Usual.Size} are wrong or none is good (AUTOSAR E2E state machine), and is content again after {E2EWindow.Usual.OkForRecovery} good ones; a tester waits {TesterUs / 1000} ms";

    /// <summary>The finding with the time to the complaint and what mends it.</summary>
    public static Finding Judge(Finding finding, FrameTrack? track)
    {
        if (finding.Kind is FindingKind.AnswerMissing or FindingKind.AnswerLate or FindingKind.AnswerWrong && track?.Frame.IsDescribed is false)
            return finding with { ComplainsUs = finding.Kind is FindingKind.AnswerWrong ? 0 : TesterUs, Recovers = "the next request that is answered rightly" };
        if (finding is { Kind: FindingKind.EarlyEnd, Frame: null })
            return finding with { ComplainsUs = 0, Recovers = Again };
        if (track is null || track.LongestUs is 0)
            return finding;
        var period = track.LongestUs;
        switch (finding.Kind)
        {
            case FindingKind.NeverSent:
                return finding with { ComplainsUs = LostPeriods * period, Recovers = Again };
            case FindingKind.Missing or FindingKind.EarlyEnd or FindingKind.LateStart:
                foreach (var gap in track.Gaps.OrderBy(g => g.FromUs))
                    if (gap.FromUs >= finding.FirstUs && gap.UntilUs - gap.FromUs >= LostPeriods * period)
                        return finding with { ComplainsUs = gap.FromUs + (LostPeriods * period) - finding.FirstUs, Recovers = Again };
                return finding;
            case FindingKind.TwoSenders when CounterStep.Field(track) is not null || track.Frame.Protection is not null:
                return finding with { ComplainsUs = period, Recovers = "silence of one of the two; a board with the guard 'foreign sender' stays silent until its power is removed" };
            case FindingKind.Checksum or FindingKind.Counter or FindingKind.Shape or FindingKind.TwoSenders:
                return Distrust(track, finding.FirstUs) is { } at ? finding with { ComplainsUs = at - finding.FirstUs, Recovers = $"{E2EWindow.Usual.OkForRecovery} good frames" } : finding;
            default:
                return finding;
        }
    }

    /// <summary>A whole module that is not there: its fastest frame is missed first.</summary>
    public static Finding JudgeAbsence(Finding finding, BoardPlan plan)
    {
        var periods = plan.Frames.Where(f => f.Owner.Module.Name == finding.Module && f.Frame.IsCyclic).Select(f => f.Frame.PeriodUs).ToList();
        return periods.Count is 0 ? finding : finding with { ComplainsUs = LostPeriods * periods.Min(), Recovers = Again };
    }

    private static string Again => $"{E2EWindow.Usual.OkForRecovery} frames in time; a stored fault stays until it is cleared";

    /// <summary>When the receiver's state machine does not trust a frame, from a time on; null if it always does. It has a window's time to begin to.</summary>
    public static long? Distrust(FrameTrack track, long from)
    {
        var protection = track.Frame.Protection;
        var receiver = protection is null ? null : new E2EReceiver(E2EProfile.Find(protection.Profile)!, protection.Ids, protection.Offset, mostLost: 1);
        var machine = new E2EStateMachine(E2EWindow.Usual);
        var taken = 0;
        for (var i = 0; i < track.Seen.Count; i++)
        {
            if (i > 0 && track.Frame.IsCyclic)
                for (var missed = Math.Min(E2EWindow.Usual.Size, (track.Seen[i].StartUs - track.Seen[i - 1].StartUs) / track.LongestUs) - 1; missed > 0; missed--)
                {
                    machine.Take(null);
                    taken++;
                }
            var data = track.Data(track.Seen[i]);
            var status = receiver?.Check(data)
                ?? (data.Length != track.Frame.Length ? E2EStatus.WrongLength : track.Wrong.Contains(i) ? E2EStatus.WrongCrc
                    : track.Repeated.Contains(i) ? E2EStatus.Repeated : track.Slipped.Contains(i) ? E2EStatus.WrongSequence : E2EStatus.Ok);
            var state = machine.Take(status);
            taken++;
            if (track.Seen[i].StartUs >= from && (state is E2EState.Invalid || (state is not E2EState.Valid && taken >= E2EWindow.Usual.Size)))
                return track.Seen[i].StartUs;
        }
        return null;
    }
}
