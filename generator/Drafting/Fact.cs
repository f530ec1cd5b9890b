using Locum.Inference;

namespace Locum.Drafting;

/// <summary>One inferred fact as it stands in the description and in the summary.</summary>
/// <param name="Subject">Name of the frame or bus it belongs to; empty for the module.</param>
/// <param name="What">Kind of fact: period, counter, checksum, …</param>
/// <param name="Says">The fact in the words of descriptions.</param>
/// <param name="Confidence">How sure it is.</param>
/// <param name="Evidence">What speaks for it.</param>
/// <param name="Unit">What was counted, in the singular: frame, step, gap.</param>
/// <param name="Note">Further words; empty for none.</param>
public sealed record Fact(string Subject, string What, string Says, Confidence Confidence, Evidence Evidence, string Unit, string Note = "")
{
    /// <summary>The comment in the description: word, evidence, note.</summary>
    public string Comment
    {
        get
        {
            string counted = Evidence.Tested is 0 ? ""
                : Evidence.Contradictions is 0 ? $"{DraftWords.Count(Evidence.Tested, Unit)}, none against"
                : DraftWords.Text($"{Evidence.Hits} of {DraftWords.Count(Evidence.Tested, Unit)}, {Evidence.Contradictions} against");
            string says = string.Join("; ", ((string[])[counted, Note]).Where(s => s.Length > 0));
            return $"{Word}{(says.Length > 0 ? ": " : "")}{says}";
        }
    }

    /// <summary>The word on the scale.</summary>
    public string Word => Confidence.ToString().ToLowerInvariant();
}
