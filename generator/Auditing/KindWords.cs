namespace Locum.Auditing;

/// <summary>Kinds of findings as titles and as words for programs.</summary>
internal static class KindWords
{
    public static string Title(FindingKind kind) => kind switch
    {
        FindingKind.NeverSent => "never sent",
        FindingKind.Missing => "frames missing",
        FindingKind.TwoSenders => "sent by two nodes",
        FindingKind.LateStart => "starts late",
        FindingKind.EarlyEnd => "stops early",
        FindingKind.Period => "period",
        FindingKind.Shape => "length or format",
        FindingKind.Checksum => "checksum",
        FindingKind.Counter => "counter",
        FindingKind.AnswerMissing => "answer missing",
        FindingKind.AnswerLate => "answer late",
        FindingKind.AnswerWrong => "answer wrong",
        FindingKind.Mode => "mode",
        FindingKind.Value => "value",
        FindingKind.Turn => "order of payloads",
        FindingKind.Frozen => "stands still",
        FindingKind.Jitter => "jitter",
        FindingKind.BusErrors => "errors on the bus",
        FindingKind.Original => "differs from the original",
        _ => throw new ArgumentOutOfRangeException(nameof(kind)),
    };

    /// <summary>The title in one word, joined by hyphens.</summary>
    public static string Word(FindingKind kind) => Title(kind).Replace(' ', '-');
}
