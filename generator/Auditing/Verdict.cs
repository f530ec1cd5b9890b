namespace Locum.Auditing;

/// <summary>What one payload says.</summary>
/// <param name="Pages">Pages that it can be; a single 0 for frames without pages.</param>
/// <param name="Modes">Modes in which it can have been composed, as a set of bits; never empty.</param>
/// <param name="Faults">What is wrong with it.</param>
internal sealed record Verdict(IReadOnlyList<int> Pages, ulong Modes, IReadOnlyList<Fault> Faults)
{
    /// <summary>The page, or null when it can be several.</summary>
    public int? Page => Pages is [var only] ? only : null;

    public bool Has(FaultKind kind) => Faults.Any(f => f.Kind == kind);
}
