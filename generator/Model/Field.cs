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
            position = BigEndian && position % 8 is 7 ? position - 15 : position + 1;
        }
    }
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
