namespace Locum.Inference.Checksums;

/// <summary>A verified rule on its way to a finding.</summary>
internal sealed class Candidate
{
    private const int OddRangeEffort = 20;
    private const int EffortUnit = 2;
    private const double LeastChanging = 0.5;

    /// <summary>Words a verified rule.</summary>
    /// <param name="verified">The rule.</param>
    /// <param name="context">What wordings refer to.</param>
    public Candidate(Verified verified, WordingContext context)
    {
        Verified = verified;
        View = new HitView(verified, context.Set);
        Wordings = verified.Fit switch
        {
            PlainFit plain => PlainWording.Of(plain, verified.Constants[0]!.Value, context),
            CrcFit crc => CrcWording.Of(crc, verified.Constants, context),
            J1939Fit folded => [folded.Wording()],
            _ => [],
        };
        Signature = Sign();
    }

    /// <summary>The rule.</summary>
    public Verified Verified { get; }

    /// <summary>Payloads that satisfy it.</summary>
    public HitView View { get; }

    /// <summary>Ways to state it, least effort first; empty when the language has no words for it.</summary>
    public IReadOnlyList<Wording> Wordings { get; }

    /// <summary>Equal for rules that agree on every payload in which only bits seen to change differ.</summary>
    public string Signature { get; }

    /// <summary>What the best wording asks of the reader; a plain range counts most.</summary>
    public int Effort
    {
        get
        {
            var range = Verified.Fit.Range;
            return (Wordings[0].Effort * EffortUnit) + (range.Plainness > 1 ? OddRangeEffort : range.Plainness) + (range.OwnZero == OwnIsCustomary ? 0 : 1);
        }
    }

    /// <summary>
    /// True when the place uses several bits and mostly changes when what it covers does: a checksum of w bits stays the
    /// same in one of 2^w changes only.
    /// </summary>
    public bool Responds => View.ChangedOwnBits > 1 && View.ChangingShare() >= LeastChanging;

    /// <summary>True when nothing in the best wording was solved and the range is plain.</summary>
    public bool IsNamed => Wordings[0].Natural && Verified.Fit.Range.Plainness <= 1 && !IsParameters;

    private bool IsParameters => Wordings[0].Statement.Rule is FoundCrc { Named: false };

    // A nibble leaves half its byte to something else, a counter as a rule, which is covered.
    private bool OwnIsCustomary => Verified.Fit.Place.Bits < 8;

    private string Sign()
    {
        var fit = Verified.Fit;
        var text = new System.Text.StringBuilder(fit.Arithmetic).Append(fit.Classes);
        for (int b = 0; b < Verified.Length; b++)
        {
            for (int bit = 0; bit < 8; bit++)
            {
                if ((View.ChangedOther(b) >> bit & 1) != 0)
                    text.Append('/').Append(fit.Response(b, bit));
            }
        }

        return text.ToString();
    }
}
