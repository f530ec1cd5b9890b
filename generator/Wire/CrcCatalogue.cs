using System.Collections.Frozen;

namespace Locum.Wire;

/// <summary>One named CRC.</summary>
/// <param name="Parameters">The CRC, under its main name.</param>
/// <param name="Check">Its result over the nine ASCII characters <c>123456789</c>.</param>
/// <param name="Aliases">Other names a description may use.</param>
public sealed record CrcEntry(CrcParameters Parameters, ulong Check, IReadOnlyList<string> Aliases);

/// <summary>The CRCs that a description can name: widths 8, 16, 32 and 64.</summary>
public static class CrcCatalogue
{
    private static readonly FrozenDictionary<string, CrcEntry> s_byName = CrcEntries.All
        .SelectMany(entry => entry.Aliases.Append(entry.Parameters.Name), (entry, name) => (name, entry))
        .ToFrozenDictionary(pair => pair.name, pair => pair.entry, StringComparer.Ordinal);

    /// <summary>All entries in order of width.</summary>
    public static IReadOnlyList<CrcEntry> Entries => CrcEntries.All;

    /// <summary>All main names and aliases in ordinal order, for lists and suggestions.</summary>
    public static IReadOnlyList<string> Names { get; } = [.. s_byName.Keys.Order(StringComparer.Ordinal)];

    /// <summary>The CRC of a main name or an alias; null when there is none. Names are lower case.</summary>
    public static CrcParameters? Find(string name) => FindEntry(name)?.Parameters;

    /// <summary>The entry of a main name or an alias; null when there is none. Names are lower case.</summary>
    public static CrcEntry? FindEntry(string name) => s_byName.GetValueOrDefault(name);
}
