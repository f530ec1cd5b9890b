using Locum.Inference;
using Locum.Inference.Checksums;

namespace Locum.Drafting;

/// <summary>Checksum fields and end-to-end protection.</summary>
internal static class ChecksumLines
{
    /// <summary>The key "protect" of a frame and its comment; null when no profile fits well enough.</summary>
    public static (string Text, string Comment)? Protect(DraftContext context, int number)
    {
        var frame = context.Findings.Frames[number];
        if (frame.Checksums.FirstOrDefault(IsProtected) is not { ProtectText: { } text } finding)
            return null;
        ulong first = finding.Protect!.Counter.Read(frame.Payloads.Data(frame.FirstFrame));
        bool says = (context.Findings.Start.Seen || frame.Pages is not null) && first != finding.Protect.Profile.FirstCounter;
        if (says)
            text = DraftWords.Text($"{text[..^1]}, start: {first}}}");
        return (text, context.Tell(Say(context.FrameNames[number], "protection", text, finding)));
    }

    /// <summary>The checksum fields that no profile states.</summary>
    public static IEnumerable<FieldLine> Fields(DraftContext context, int number)
    {
        var frame = context.Findings.Frames[number];
        foreach (var finding in frame.Checksums.Where(c => !IsProtected(c)))
        {
            var place = Place(finding.Statement.Place);
            string name = DraftWords.Text($"check-{place.Bit}");
            string text = finding.FieldText(finding.Counter is { } counter ? CounterLines.Name(counter.Bit) : "");
            yield return new FieldLine(place, name, text, context.Tell(Say(context.FrameNames[number], "checksum", text, finding)));
        }
    }

    /// <summary>True when the frame's key "protect" says it all.</summary>
    public static bool IsProtected(ChecksumFinding finding) => finding.Protect is not null && finding.Confidence > Confidence.Possible;

    /// <summary>The place in the words of all other findings.</summary>
    public static FieldPlace Place(ChecksumPlace place) => new(place.Bit, place.Bits, place.BigEndian);

    private static Fact Say(string frame, string what, string text, ChecksumFinding finding)
    {
        string notes = DraftWords.Text($"{finding.Evidence.Distinct} different payloads");
        if (finding.Cautions.Count > 0)
            notes += $"; {finding.Cautions[0].Text.TrimEnd('.')}";
        return new Fact(frame, what, text, finding.Confidence, finding.Evidence, "frame", notes);
    }
}
