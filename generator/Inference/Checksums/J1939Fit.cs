using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>The message checksum of SAE J1939-71 over the whole message; it has no constant, so the residue must be 0.</summary>
internal sealed record J1939Fit(ChecksumPlace Place, ByteRange Range, CanId Id) : Fit(Place, Range)
{
    /// <inheritdoc/>
    public override RuleFamily Family => RuleFamily.Named;

    /// <inheritdoc/>
    public override bool IsPlain => true;

    /// <inheritdoc/>
    public override string Arithmetic => "j1939-71";

    /// <inheritdoc/>
    public override ulong Residue(ReadOnlySpan<byte> payload)
    {
        uint sum = 0;
        foreach (int index in Range.Bytes)
            sum += (uint)(payload[index] & ~Place.Mask(index));
        for (int part = 0; part < 4; part++)
            sum += (byte)(Id.Value >> (8 * part));
        return RuleArithmetic.Fold(sum) ^ Place.Read(payload);
    }

    /// <inheritdoc/>
    public override ulong Response(int index, int bit) => (1UL << bit) & Range.Mask(index, Place);

    /// <summary>The rule as descriptions state it.</summary>
    public Wording Wording() => new(
        new ChecksumStatement(Place, new FoundJ1939(), Range.Bytes, [], [.. Enumerable.Range(0, 4).Select(n => new MixedIdentifier(n))], true), 0, true);
}
