namespace Locum.Inference.Checksums;

/// <summary>A rule without its constant, that is one hypothesis of a search.</summary>
/// <param name="Place">Where the checksum stands.</param>
/// <param name="Range">What it reads of the payload.</param>
internal abstract record Fit(ChecksumPlace Place, ByteRange Range)
{
    /// <summary>The arithmetic of rules that are linear over GF(2).</summary>
    protected const string LinearArithmetic = "bits";

    /// <summary>The family whose share of the allowed chance the rule draws on.</summary>
    public abstract RuleFamily Family { get; }

    /// <summary>
    /// True for rules that unrelated data may imitate by their structure: sums and XORs. See <see cref="FalseHit"/>.
    /// </summary>
    public abstract bool IsPlain { get; }

    /// <summary>True for rules that are linear over GF(2): CRCs and XORs.</summary>
    public bool IsLinear => Arithmetic == LinearArithmetic;

    /// <summary>Rules in the same arithmetic have comparable <see cref="Response"/>s.</summary>
    public abstract string Arithmetic { get; }

    /// <summary>What the constant must be for this payload to be right; the rule fits when it is the same for all.</summary>
    public abstract ulong Residue(ReadOnlySpan<byte> payload);

    /// <summary>What one set bit of a payload contributes.</summary>
    public abstract ulong Response(int index, int bit);

    /// <summary>Splits payloads into classes, each with a constant of its own; null for one constant.</summary>
    public CounterClasses? Classes { get; init; }
}
