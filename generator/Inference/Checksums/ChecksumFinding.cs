using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>A checksum rule that fits the frames of one identifier and one length.</summary>
public sealed record ChecksumFinding
{
    /// <summary>The identifier whose frames were searched.</summary>
    public required CanId Id { get; init; }

    /// <summary>Data bytes of the frames for which the rule was found.</summary>
    public required int Length { get; init; }

    /// <summary>Place, arithmetic and range.</summary>
    public required ChecksumStatement Statement { get; init; }

    /// <summary>The end-to-end profile that says the same more plainly; null when none does.</summary>
    public ProtectStatement? Protect { get; init; }

    /// <summary>The counter on which the rule depends, be it of a secret or of a profile; null without one.</summary>
    public ChecksumPlace? Counter { get; init; }

    /// <summary>What speaks for it. Frames of other lengths are not among those tested.</summary>
    public required Evidence Evidence { get; init; }

    /// <summary>How sure it is: what the evidence allows, lowered by <see cref="Cautions"/>.</summary>
    public required Confidence Confidence { get; init; }

    /// <summary>What lowers the confidence or is left open, most serious first.</summary>
    public required IReadOnlyList<Caution> Cautions { get; init; }

    /// <summary>Other ways to state it, as text, that give the same bytes for every payload of this length.</summary>
    public required IReadOnlyList<string> Equivalents { get; init; }

    /// <summary>Payload bytes that changed in the capture and that the rule covers, ascending.</summary>
    public required IReadOnlyList<int> SeenBytes { get; init; }

    /// <summary>
    /// Payload bytes that never changed in the capture, ascending: the frames cannot tell whether the rule covers them.
    /// </summary>
    public required IReadOnlyList<int> UnseenBytes { get; init; }

    /// <summary>True for payloads of the length for which the rule was found.</summary>
    public bool Applies(ReadOnlySpan<byte> payload) => payload.Length == Length;

    /// <summary>True when the rule applies to the payload and the payload satisfies it.</summary>
    public bool Check(ReadOnlySpan<byte> payload) => Applies(payload) && Statement.Holds(Id, payload);

    /// <summary>
    /// The field as a description states it, such as
    /// <c>{bit: 56, bits: 8, checksum: {rule: crc8-sae-j1850, over: 0..6}}</c>.
    /// </summary>
    /// <param name="counter">Name of the field at <see cref="Counter"/>, for rules with a secret.</param>
    public string FieldText(string counter = "counter") => DescriptionText.Field(Statement, counter);

    /// <summary>The frame's key <c>protect</c> with its value; null without <see cref="Protect"/>.</summary>
    public string? ProtectText => Protect is null ? null : DescriptionText.Protect(Protect);
}
