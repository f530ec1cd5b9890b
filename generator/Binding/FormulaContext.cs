using Locum.Model;
using Locum.Wire;

namespace Locum.Binding;

/// <summary>What formulas and checksums see of the frame they stand in.</summary>
/// <param name="Frame">Name of the frame.</param>
/// <param name="Base">Payload before any field is written.</param>
/// <param name="Before">Fields written in front of those being bound: the frame's own, for a page.</param>
/// <param name="BaseChanges">The base differs by page, so bits that no field writes have no fixed value.</param>
internal sealed record FormulaContext(string Frame, CanId Id, byte[] Base, IReadOnlyList<Field> Before, bool BaseChanges)
{
    public int Length => Base.Length;
}

/// <summary>When a field is written (rule 12).</summary>
internal enum FieldStage
{
    /// <summary>Values and counters.</summary>
    Value,

    Formula,
    Checksum,
}
