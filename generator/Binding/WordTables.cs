namespace Locum.Binding;

/// <summary>Words that mean the same in several places of the language.</summary>
internal static class WordTables
{
    public static readonly Dictionary<string, bool> YesNo = new(StringComparer.Ordinal) { ["yes"] = true, ["no"] = false, ["true"] = true, ["false"] = false };

    /// <summary>State of an input.</summary>
    public static readonly Dictionary<string, bool> States = new(StringComparer.Ordinal) { ["active"] = true, ["inactive"] = false };

    /// <summary>Electrical level.</summary>
    public static readonly Dictionary<string, bool> Levels = new(StringComparer.Ordinal) { ["high"] = true, ["low"] = false };
}
