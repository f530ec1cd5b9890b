namespace Locum.Inference.Checksums;

/// <summary>A byte that a found checksum reads but the payload does not carry.</summary>
public abstract record MixedByte;

/// <summary>A fixed value.</summary>
public sealed record MixedLiteral(byte Value) : MixedByte;

/// <summary>A byte of the frame's identifier, 0 being the least significant.</summary>
public sealed record MixedIdentifier(int Number) : MixedByte;

/// <summary>The number of data bytes.</summary>
public sealed record MixedLength : MixedByte;

/// <summary>A byte chosen by a counter's value.</summary>
/// <param name="Counter">The counter's place in the payload.</param>
/// <param name="Table">One entry per value from 0 on; null for values that no frame showed.</param>
public sealed record MixedSecret(ChecksumPlace Counter, IReadOnlyList<byte?> Table) : MixedByte
{
    /// <summary>Same place, same entries.</summary>
    public bool Equals(MixedSecret? other) => other is not null && Counter == other.Counter && Table.SequenceEqual(other.Table);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Counter, Table.Count);
}
