namespace Locum.Formulas;

/// <summary>Where a name's value comes from.</summary>
public enum FormulaOrigin
{
    /// <summary>A field of the same frame; <see cref="FormulaSymbol.Index"/> is its place among the frame's fields.</summary>
    Field,

    /// <summary>A field of a received frame; <see cref="FormulaSymbol.Frame"/> and <see cref="FormulaSymbol.Index"/> tell which.</summary>
    Received,
}

/// <summary>What a name in a formula stands for.</summary>
public sealed record FormulaSymbol
{
    /// <summary>The name as messages show it, unique within a formula.</summary>
    public required string Name { get; init; }

    public required FormulaOrigin Origin { get; init; }

    /// <summary>Index of the received frame; 0 for a field of the same frame.</summary>
    public int Frame { get; init; }

    /// <summary>Index of the field in its frame.</summary>
    public int Index { get; init; }

    /// <summary>Width, 1..64.</summary>
    public required int Bits { get; init; }

    /// <summary>The bits are two's complement.</summary>
    public bool Signed { get; init; }

    /// <summary>The bits, when they are always the same.</summary>
    public ulong? Constant { get; init; }

    /// <summary>The value is only computed after the formula.</summary>
    public bool Later { get; init; }

    /// <summary>The raw bits as a number, sign extended when <see cref="Signed"/>.</summary>
    public long Extend(ulong raw)
    {
        var shift = 64 - Bits;
        return Signed ? (long)(raw << shift) >> shift : (long)(raw << shift >> shift);
    }
}

/// <summary>The names a formula can use.</summary>
public interface IFormulaScope
{
    /// <summary>Data bytes of the frame.</summary>
    int Length { get; }

    /// <summary>Names of the module's modes as formulas write them, by mode index.</summary>
    IReadOnlyList<string> Modes { get; }

    /// <summary>Names worth suggesting; <see cref="Find"/> may know more.</summary>
    IReadOnlyList<string> Names { get; }

    /// <summary>What a name, or two joined by a point, stands for; null when it is unknown.</summary>
    FormulaSymbol? Find(string name);
}

/// <summary>What a formula reads when it is evaluated.</summary>
public interface IFormulaInputs
{
    /// <summary>Index of the module's mode.</summary>
    int Mode { get; }

    /// <summary>The payload as composed so far.</summary>
    ReadOnlySpan<byte> Payload { get; }

    /// <summary>The raw bits behind a name; bits above the symbol's width do not count.</summary>
    ulong Raw(FormulaSymbol symbol);
}
