using Locum.Formulas;
using Locum.Model;

namespace Locum.Simulation;

/// <summary>A payload while it is composed, as formulas see it.</summary>
internal sealed class ComposedPayload(Frame frame, byte[] payload, int mode, IReadOnlyList<ReceivedState> receives) : IFormulaInputs
{
    public int Mode => mode;

    public IReadOnlyList<ReceivedState> Receives => receives;

    public ReadOnlySpan<byte> Payload => payload;

    public ulong Raw(FormulaSymbol symbol) => symbol.Origin is FormulaOrigin.Received
        ? (ulong)(receives[symbol.Frame].Value(symbol.Index) ?? 0)
        : frame.Fields[symbol.Index].ReadBits(payload);

    /// <summary>True while all received frames that a formula reads are there.</summary>
    public bool HasAll(Formula formula) =>
        formula.Symbols.All(s => s.Origin is not FormulaOrigin.Received || receives[s.Frame].There);
}
