using Locum.Formulas;
using Locum.Text;
using Locum.Wire;

namespace Locum.Model;

/// <summary>How a checksum field is computed.</summary>
/// <param name="Over">Payload bytes in the order in which they are read.</param>
/// <param name="Before">Bytes read before the payload.</param>
/// <param name="With">Bytes read after the payload.</param>
/// <param name="OwnBitsZero">The field's own bits count as 0 where the range covers them.</param>
public sealed record Checksum(
    ChecksumRule Rule,
    IReadOnlyList<int> Over,
    IReadOnlyList<ExtraByte> Before,
    IReadOnlyList<ExtraByte> With,
    bool OwnBitsZero,
    Span Span);

/// <summary>The arithmetic of a checksum; the result is taken modulo the field's width.</summary>
public abstract record ChecksumRule(string Name);

/// <summary>Start value plus all bytes (or all nibbles), then the complement.</summary>
public sealed record SumRule(string Name, bool Nibbles, uint Start, Complement Complement) : ChecksumRule(Name);

/// <summary>Start value exclusive-or all bytes (or all nibbles), then the complement.</summary>
public sealed record XorRule(string Name, bool Nibbles, uint Start, Complement Complement) : ChecksumRule(Name);

/// <summary>A cyclic redundancy check.</summary>
public sealed record CrcRule(string Name, CrcParameters Parameters) : ChecksumRule(Name);

/// <summary>The message checksum of SAE J1939-71 (from memory, unconfirmed): the sum of all bytes and of the identifier's, folded to 3 bits.</summary>
public sealed record J1939Rule() : ChecksumRule("j1939-71");

/// <summary>A formula; the bytes it reads are the checksum's range.</summary>
public sealed record FormulaRule(Formula Formula) : ChecksumRule("formula");

/// <summary>What is done to a sum at the end.</summary>
public enum Complement
{
    None,

    /// <summary>All bits inverted.</summary>
    Ones,

    /// <summary>Negated.</summary>
    Twos,
}

/// <summary>A byte that a checksum reads but the payload does not carry.</summary>
public abstract record ExtraByte;

/// <summary>A fixed value.</summary>
public sealed record LiteralByte(byte Value) : ExtraByte;

/// <summary>A byte of the frame's identifier, 0 being the least significant.</summary>
public sealed record IdentifierByte(int Number) : ExtraByte;

/// <summary>The number of data bytes.</summary>
public sealed record LengthByte : ExtraByte;

/// <summary>A byte chosen by a counter's value: the entry at value − <paramref name="Lowest"/>.</summary>
/// <param name="Counter">Index in the module's list of counters.</param>
/// <param name="Lowest">The counter's lowest value.</param>
public sealed record SecretByte(int Counter, uint Lowest, byte[] Table) : ExtraByte;
