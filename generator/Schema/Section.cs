namespace Locum.Schema;

/// <summary>A kind of mapping: its keys in the order in which they are written.</summary>
public sealed record Section
{
    /// <summary>Its name in the JSON Schema.</summary>
    public required string Name { get; init; }

    /// <summary>What messages call it ("a frame").</summary>
    public required string What { get; init; }

    public required string Description { get; init; }

    public required IReadOnlyList<Key> Keys { get; init; }

    /// <summary>The shape behind keys that are the author's own names; null when there are none. They are written before the others.</summary>
    public Shape? Open { get; init; }

    /// <summary>Keys of which exactly one is there; empty when there is no such rule.</summary>
    public IReadOnlyList<string> OneOf { get; init; } = [];

    /// <summary>Always written with a line per key.</summary>
    public bool Block { get; init; }

    public Key? Find(string key) => Keys.FirstOrDefault(k => k.Name == key);
}

/// <summary>One key of the language.</summary>
/// <param name="Description">A sentence for a reader in an editor.</param>
/// <param name="Example">A value as it is written in YAML.</param>
public sealed record Key(string Name, Shape Shape, string Description, string Example)
{
    public bool Required { get; init; }

    /// <summary>The key whose presence makes this one dispensable; null when nothing does.</summary>
    public string? RequiredUnless { get; init; }

    /// <summary>Another key of the section without which this one says nothing.</summary>
    public string? Needs { get; init; }

    /// <summary>What counts when the key is absent, as it would be written; null when there is nothing to write.</summary>
    public string? Default { get; init; }
}
