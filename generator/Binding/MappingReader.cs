using Locum.Diagnostics;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Binding;

/// <summary>Reads the keys of one mapping; reports what is missing, mistyped or left over.</summary>
/// <param name="node">The mapping, or another node, which is reported and read as empty.</param>
/// <param name="what">What the mapping describes, for messages ("a frame").</param>
public sealed class MappingReader
{
    /// <summary>Told what is asked for – what the mapping describes, and the key – so that the language's table can be held against it.</summary>
    internal static readonly AsyncLocal<Action<string, string>?> Watch = new();

    private readonly Dictionary<string, MappingEntry> _entries = new(StringComparer.Ordinal);
    private readonly List<string> _known = [];
    private readonly string _what;
    private readonly bool _usable;

    public MappingReader(SyntaxNode node, DiagnosticBag diagnostics, string what)
    {
        Diagnostics = diagnostics;
        Span = node.Span;
        _what = what;
        if (node is MappingNode mapping)
        {
            _usable = true;
            foreach (var entry in mapping.Entries)
                _entries[entry.Key.Value] = entry;
        }
        else
        {
            diagnostics.Add(Codes.WrongShape, node.Span, $"{what} is a mapping of keys, this is {node.Kind}", "write 'key: value' lines, or {key: value, …}");
        }
    }

    public DiagnosticBag Diagnostics { get; }

    public Span Span { get; }

    /// <summary>Place of a key, or of the whole mapping when the key is absent.</summary>
    public Span SpanOf(string key) => _entries.TryGetValue(key, out var e) ? e.Key.Span : Span;

    /// <summary>Place of a value, or of the whole mapping when the key is absent.</summary>
    public Span ValueSpan(string key) => _entries.TryGetValue(key, out var e) ? e.Value.Span : Span;

    public bool Has(string key) => _entries.ContainsKey(key);

    /// <summary>The value of a key that may be absent.</summary>
    public SyntaxNode? Optional(string key)
    {
        _known.Add(key);
        Watch.Value?.Invoke(_what, key);
        return _entries.TryGetValue(key, out var entry) ? entry.Value : null;
    }

    /// <summary>The value of a key that must be there; null (and a finding) when it is not.</summary>
    public SyntaxNode? Required(string key, string mend)
    {
        var value = Optional(key);
        if (value is null && _usable)
            Diagnostics.Add(Codes.MissingKey, Span.First(), $"{_what} needs '{key}'", mend);
        return value;
    }

    /// <summary>The entries of a key that holds a mapping of names; empty when absent.</summary>
    public IReadOnlyList<MappingEntry> Named(string key, string what)
    {
        switch (Optional(key))
        {
            case null:
                return [];
            case MappingNode mapping:
                return mapping.Entries;
            case ScalarNode { Quoted: false, Value: "" }:
                return [];
            case var other:
                Diagnostics.Add(Codes.WrongShape, other.Span, $"'{key}' is a mapping of {what} by name, this is {other.Kind}", "write one 'name: …' line for each");
                return [];
        }
    }

    /// <summary>Reports every key that was never asked for. Call last.</summary>
    public void Done()
    {
        foreach (var entry in _entries.Values.Where(e => !_known.Contains(e.Key.Value, StringComparer.Ordinal)))
            Diagnostics.Add(Codes.UnknownKey, entry.Key.Span, $"{_what} has no key '{Printable.Short(entry.Key.Value)}'", Nearest.Mend(entry.Key.Value, _known, "key"));
    }
}
