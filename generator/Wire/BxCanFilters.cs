namespace Locum.Wire;

/// <summary>Packs the identifiers that a board listens to into the filter banks of a bxCAN controller.</summary>
public static class BxCanFilters
{
    /// <summary>Filter banks of a controller that stands alone (RM0008: 14).</summary>
    public const int Banks = 14;

    private const int IdsInShortList = 4;

    /// <summary>
    /// Banks that pass exactly what a pattern matches. When there are more patterns than the banks hold, the two that
    /// lie nearest are joined until the rest fits: then more passes, and the core drops it.
    /// </summary>
    public static IReadOnlyList<BxCanFilterBank> Pack(IEnumerable<IdPattern> patterns)
    {
        var rest = patterns.ToList();
        IdPattern.DropCovered(rest);
        var banks = Fill(rest);
        while (banks.Count > Banks)
        {
            IdPattern.JoinNearest(rest);
            IdPattern.DropCovered(rest);
            banks = Fill(rest);
        }
        return banks;
    }

    private static List<BxCanFilterBank> Fill(List<IdPattern> patterns)
    {
        var shortIds = patterns.Where(p => p is { Id.Extended: false, IsSingle: true }).ToList();
        var shortMasks = patterns.Where(p => p is { Id.Extended: false, IsSingle: false }).ToList();
        if (shortMasks.Count % 2 is 1 && shortIds.Count > 0)
        {
            shortMasks.Add(shortIds[^1]);
            shortIds.RemoveAt(shortIds.Count - 1);
        }
        return
        [
            .. shortIds.Chunk(IdsInShortList).Select(c => BxCanFilterBank.ShortList(c)),
            .. shortMasks.Chunk(2).Select(c => BxCanFilterBank.ShortMasks(c)),
            .. patterns.Where(p => p is { Id.Extended: true, IsSingle: true }).Chunk(2).Select(c => BxCanFilterBank.LongList(c)),
            .. patterns.Where(p => p is { Id.Extended: true, IsSingle: false }).Select(BxCanFilterBank.LongMask),
        ];
    }
}
