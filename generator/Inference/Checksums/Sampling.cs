namespace Locum.Inference.Checksums;

/// <summary>
/// Chooses the payloads that a search looks at first. A single corrupted payload ruins a solution by elimination, so
/// there are several samples, most of them without the few that are corrupted; what a sample suggests is held against
/// all payloads afterwards.
/// </summary>
internal static class Sampling
{
    private const int ClassicMost = 96;
    private const int BeyondBits = 32;
    private const int FewRepeated = 8;

    // Disjoint parts: two corrupted payloads leave most of them clean.
    private const int MostParts = 5;
    private const int FewerParts = 3;
    private const int FewForParts = 40;
    private const int ClassesFactor = 3;

    /// <summary>The samples, in the order in which to try them.</summary>
    /// <param name="set">All payloads.</param>
    /// <param name="classes">Compare only payloads of the same class; null compares all with the first.</param>
    public static IEnumerable<Sample> Of(PayloadSet set, CounterClasses? classes)
    {
        foreach (var indices in Indices(set, Most(set) * (classes is null ? 1 : ClassesFactor)))
        {
            var pairs = classes is null ? ToFirst(indices) : ToFirstOfClass(set, indices, classes);
            if (pairs.Length > 1)
                yield return new Sample(set, pairs);
        }
    }

    // More differences than the payload has bits, so that what depends on the others shows.
    private static int Most(PayloadSet set) => Math.Max(ClassicMost, (set.Length * 8) + BeyondBits);

    private static IEnumerable<int[]> Indices(PayloadSet set, int most)
    {
        int[] repeated = [.. Enumerable.Range(0, set.Distinct).Where(i => set.Counts[i] > 1)];
        bool some = repeated.Length >= FewRepeated && repeated.Length < set.Distinct;
        if (some)
            yield return Thin(repeated, most);
        int[] all = [.. Enumerable.Range(0, set.Distinct)];
        yield return Thin(all, most);
        if (all.Length < FewRepeated)
            yield break;
        foreach (var part in Parts(all, set.Length * 8 + BeyondBits / 2))
            yield return Thin(part, most);
    }

    // Every n-th payload, or, where that would be too few to tell anything, overlapping stretches of enough.
    private static IEnumerable<int[]> Parts(int[] all, int telling)
    {
        int count = all.Length < FewForParts ? FewerParts : MostParts;
        for (int part = 0; part < count; part++)
        {
            if (all.Length / count >= telling || all.Length < telling * 3 / 2)
                yield return [.. all.Where(i => i % count == part)];
            else
                yield return all[(part * (all.Length - telling) / (count - 1))..][..telling];
        }
    }

    private static int[] Thin(int[] indices, int most)
    {
        if (indices.Length <= most)
            return indices;
        return [.. Enumerable.Range(0, most).Select(i => indices[(int)((long)i * indices.Length / most)])];
    }

    private static (int A, int B)[] ToFirst(int[] indices) =>
        [.. indices.Skip(1).Select(i => (i, indices[0]))];

    private static (int A, int B)[] ToFirstOfClass(PayloadSet set, int[] indices, CounterClasses classes)
    {
        var first = new int[classes.Count];
        Array.Fill(first, -1);
        var pairs = new List<(int A, int B)>();
        foreach (int i in indices)
        {
            ref int known = ref first[classes.Of(set[i])];
            if (known < 0)
                known = i;
            else
                pairs.Add((i, known));
        }

        return [.. pairs];
    }
}
