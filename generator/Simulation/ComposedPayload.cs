using Locum.Formulas;
using Locum.Model;

namespace Locum.Simulation;

/// <summary>A payload while it is composed, as formulas see it.</summary>
internal sealed class ComposedPayload(Frame frame, byte[] payload, int mode, IReadOnlyList<ReceivedState> receives) : IFormulaInputs
{
    public int Mode => mode;

    public ReadOnlySpan<byte> Payload => payload;

    public ulong Raw(FormulaSymbol symbol)
    {
        if (symbol.Origin is FormulaOrigin.Received)
            return (ulong)(receives[symbol.Frame].Value(symbol.Index) ?? 0);
        var raw = 0UL;
        var i = 0;
        foreach (var position in frame.Fields[symbol.Index].Positions())
            raw |= (ulong)(payload[position / 8] >> (position % 8) & 1) << i++;
        return raw;
    }

    /// <summary>True while all received frames that a formula reads are there.</summary>
    public bool HasAll(Formula formula) =>
        formula.Symbols.All(s => s.Origin is not FormulaOrigin.Received || receives[s.Frame].There);
}
