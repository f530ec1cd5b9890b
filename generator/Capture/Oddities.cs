namespace Locum.Capture;

/// <summary>Counts what is odd in a capture, by kind.</summary>
internal sealed class Oddities
{
    private static readonly int s_kinds = Enum.GetValues<OddityKind>().Length;

    private readonly long[] _counts = new long[s_kinds];
    private readonly long[] _first = new long[s_kinds];

    /// <summary>Counts one.</summary>
    /// <param name="kind">What is odd.</param>
    /// <param name="place">Line or packet, from 1.</param>
    public void Add(OddityKind kind, long place)
    {
        if (_counts[(int)kind]++ is 0)
            _first[(int)kind] = place;
    }

    /// <summary>How often a kind was found.</summary>
    public long Count(OddityKind kind) => _counts[(int)kind];

    /// <summary>All kinds found, by first place.</summary>
    public IReadOnlyList<Oddity> All =>
    [
        .. Enumerable.Range(0, s_kinds)
            .Where(k => _counts[k] > 0)
            .Select(k => new Oddity((OddityKind)k, _counts[k], _first[k]))
            .OrderBy(o => o.First).ThenBy(o => o.Kind),
    ];
}
