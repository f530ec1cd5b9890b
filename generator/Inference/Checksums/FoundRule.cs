using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>The arithmetic of a found checksum; the result is taken modulo the field's width.</summary>
public abstract record FoundRule;

/// <summary>Start value plus all bytes or nibbles, then what <paramref name="Finish"/> says.</summary>
public sealed record FoundSum(bool Nibbles, uint Start, SumFinish Finish) : FoundRule;

/// <summary>Start value exclusive-or all bytes or nibbles, and all bits inverted if <paramref name="Inverted"/>.</summary>
public sealed record FoundXor(bool Nibbles, uint Start, bool Inverted) : FoundRule;

/// <summary>Start value plus all bytes with the carry added back in, that is modulo 255; descriptions state it as a formula.</summary>
/// <param name="Start">0 to 254.</param>
/// <param name="Inverted">All bits inverted at the end.</param>
/// <param name="Zero">The remainder 0 is sent as 0 (true) or as 255 (false), before the inversion.</param>
public sealed record FoundCarrySum(uint Start, bool Inverted, bool Zero) : FoundRule;

/// <summary>A cyclic redundancy check; its name is the catalogue's when <paramref name="Named"/>.</summary>
public sealed record FoundCrc(CrcParameters Parameters, bool Named) : FoundRule;

/// <summary>The message checksum of SAE J1939-71 (from memory, unconfirmed).</summary>
public sealed record FoundJ1939 : FoundRule;

/// <summary>What is done to a sum at the end.</summary>
public enum SumFinish
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>All bits inverted.</summary>
    Ones,

    /// <summary>Negated.</summary>
    Twos,
}
