using Locum.Formulas;
using Locum.Text;

namespace Locum.Model;

/// <summary>A group of payload bits with one meaning.</summary>
public sealed record Field
{
    public required string Name { get; init; }

    /// <summary>Position of the least significant bit: byte × 8 + bit, bit 0 being the byte's least significant.</summary>
    public required int Bit { get; init; }

    /// <summary>Width, 1..64.</summary>
    public required int Bits { get; init; }

    /// <summary>True: more significant bits go on in the byte before; false: in the byte behind.</summary>
    public required bool BigEndian { get; init; }

    public required bool Signed { get; init; }

    public required decimal Scale { get; init; }

    public required decimal Offset { get; init; }

    public string? Unit { get; init; }

    /// <summary>Names of raw values.</summary>
    public required IReadOnlyDictionary<string, long> Names { get; init; }

    /// <summary>Where the value comes from; null leaves the base payload's bits.</summary>
    public FieldSource? Source { get; init; }

    public required Span Span { get; init; }

    /// <summary>Payload bits of the field from the least significant on, as byte × 8 + bit.</summary>
    /// <remarks>A big-endian field goes on at bit 0 of the byte before when bit 7 is reached.</remarks>
    public IEnumerable<int> Positions()
    {
        var position = Bit;
        for (var i = 0; i < Bits; i++)
        {
            yield return position;
            position = Next(position);
        }
    }

    /// <summary>The field's bits in a payload, without regard to a sign.</summary>
    public ulong ReadBits(ReadOnlySpan<byte> payload)
    {
        var raw = 0UL;
        var position = Bit;
        for (var i = 0; i < Bits; i++)
        {
            raw |= (ulong)(payload[position / 8] >> (position % 8) & 1) << i;
            position = Next(position);
        }
        return raw;
    }

    /// <summary>The raw value of a field of up to 63 bits in a payload, with its sign.</summary>
    public long Read(ReadOnlySpan<byte> payload) => WithSign(ReadBits(payload));

    /// <summary>The value that the bits of a field of up to 63 bits stand for.</summary>
    public long WithSign(ulong bits) => Signed && (bits >> (Bits - 1) & 1) is 1 ? (long)bits - (1L << Bits) : (long)bits;

    private int Next(int position) => BigEndian && position % 8 is 7 ? position - 15 : position + 1;
}

/// <summary>Where a field's value comes from.</summary>
public abstract record FieldSource;

/// <summary>Always the same raw value (two's complement, masked to the field).</summary>
public sealed record FixedValue(ulong Raw) : FieldSource;

/// <summary>A raw value for every mode in which the frame is sent, by mode index.</summary>
public sealed record ModeValue(IReadOnlyDictionary<int, ulong> Raw) : FieldSource;

/// <summary>The value of a counter.</summary>
/// <param name="Counter">Index in the module's list of counters.</param>
public sealed record CounterValue(int Counter) : FieldSource;

/// <summary>A checksum over the payload.</summary>
public sealed record ChecksumValue(Checksum Checksum) : FieldSource;

/// <summary>Follows a received field: round((raw · Numerator + Addend) / Denominator), half away from zero, within limits.</summary>
/// <param name="Received">Index in the module's list of received frames.</param>
/// <param name="Field">Index in its list of fields.</param>
/// <param name="Denominator">Above 0.</param>
/// <param name="Low">Least raw value, signed.</param>
/// <param name="High">Largest raw value, signed.</param>
/// <param name="Lost">Raw value while the frame is lost, masked to the field.</param>
public sealed record FollowValue(int Received, int Field, long Numerator, long Addend, long Denominator, long Low, long High, ulong Lost) : FieldSource;

/// <summary>Computed by a formula; see <see cref="Formulas.FormulaSymbol.Index"/> for what its names stand for.</summary>
/// <param name="Lost">Raw value while a received frame that the formula reads is lost, masked to the field; null when it reads none.</param>
public sealed record FormulaValue(Formula Formula, ulong? Lost) : FieldSource;
