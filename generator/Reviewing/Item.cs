namespace Locum.Reviewing;

/// <summary>One thing of a model – a module, a frame, a field – as facts that can be compared.</summary>
internal sealed record Item
{
    /// <summary>The word before its name ("frame").</summary>
    public required string Kind { get; init; }

    public required string Name { get; init; }

    /// <summary>Its name before it was renamed; null when it was not.</summary>
    public string? WasNamed { get; init; }

    /// <summary>What stays when only the name changes; two items with the same are one that was renamed.</summary>
    public required string Identity { get; init; }

    /// <summary>A word that tells it apart for a reader, such as an identifier; may be empty.</summary>
    public string Hint { get; init; } = "";

    public required IReadOnlyList<Fact> Facts { get; init; }

    public IReadOnlyList<Item> Children { get; init; } = [];
}

/// <summary>Something that is so.</summary>
/// <param name="Label">The same in every revision.</param>
/// <param name="Value">As a reader would say it.</param>
internal sealed record Fact(string Label, string Value)
{
    /// <summary>The value that counts when the other revision does not mention the label.</summary>
    public string? Usual { get; init; }

    /// <summary>Told only when both revisions have the same value here: a detail of what this label names.</summary>
    public string? Of { get; init; }

    /// <summary>How the value is shown when it changes; the value itself by default.</summary>
    public string? Shown { get; init; }

    /// <summary>Someone can get hurt; told first.</summary>
    public bool Hazard { get; init; }
}
