using System.Numerics;

namespace Locum.Wire;

/// <summary>Identifiers of one format that agree in some bits.</summary>
/// <param name="Id">One of them.</param>
/// <param name="Mask">Bits that must agree; 0 takes every identifier of the format.</param>
public readonly record struct IdPattern(CanId Id, uint Mask)
{
    /// <summary>True when only one identifier fits.</summary>
    public bool IsSingle => OpenBits is 0;

    /// <summary>Number of bits that need not agree.</summary>
    public int OpenBits => BitOperations.PopCount(AllBits & ~Mask);

    /// <summary>One identifier and no other.</summary>
    public static IdPattern Only(CanId id) => new(id, id.Extended ? CanId.MaxExtended : CanId.MaxStandard);

    private uint AllBits => Id.Extended ? CanId.MaxExtended : CanId.MaxStandard;

    /// <summary>True when an identifier fits.</summary>
    public bool Matches(CanId id) => id.Extended == Id.Extended && ((id.Value ^ Id.Value) & Mask) is 0;

    /// <summary>True when every identifier that fits the other one fits this one, too.</summary>
    public bool Covers(IdPattern other) => Matches(other.Id) && (Mask & ~other.Mask & AllBits) is 0;

    /// <summary>The narrowest pattern that covers both, which must be of one format.</summary>
    public IdPattern Join(IdPattern other) => this with { Mask = Mask & other.Mask & ~(Id.Value ^ other.Id.Value) };

    /// <summary>Takes out the patterns that others cover; of equal ones the first stays.</summary>
    public static void DropCovered(List<IdPattern> patterns)
    {
        for (var i = patterns.Count - 1; i >= 0; i--)
            if (patterns.Where((p, j) => j != i && p.Covers(patterns[i]) && (j < i || !patterns[i].Covers(p))).Any())
                patterns.RemoveAt(i);
    }

    /// <summary>Joins the two patterns of one format that leave the fewest bits open together.</summary>
    public static void JoinNearest(List<IdPattern> patterns)
    {
        var (first, second, open) = (0, 0, int.MaxValue);
        for (var i = 0; i < patterns.Count; i++)
            for (var j = i + 1; j < patterns.Count; j++)
                if (patterns[i].Id.Extended == patterns[j].Id.Extended && patterns[i].Join(patterns[j]).OpenBits is var bits && bits < open)
                    (first, second, open) = (i, j, bits);
        patterns[first] = patterns[first].Join(patterns[second]);
        patterns.RemoveAt(second);
    }
}
