using System.Text;
using Locum.Binding;
using Locum.Wire;

namespace Locum.Drafting;

/// <summary>Names that a description accepts, made from what a recording calls things.</summary>
internal sealed class DraftNames
{
    private const int Longest = 40;

    private readonly HashSet<string> _taken = new(StringComparer.Ordinal);

    /// <summary>A usable name near the wanted one that no other has, not even in C.</summary>
    public string Unique(string wanted, string prefix)
    {
        string name = Usable(wanted, prefix);
        string free = name;
        for (int i = 2; !_taken.Add(Names.ToC(free)); i++)
            free = $"{name}-{i}";
        return free;
    }

    /// <summary>The name of a frame from its identifier.</summary>
    public static string Frame(CanId id) => id.Extended ? $"Id{id.Value:X8}" : $"Id{id.Value:X3}";

    /// <summary>A usable name near the wanted one.</summary>
    public static string Usable(string wanted, string prefix)
    {
        var name = new StringBuilder();
        foreach (var rune in wanted.EnumerateRunes())
            if (name.Length < Longest)
                name.Append(Rune.IsLetterOrDigit(rune) || rune.Value is ' ' or '-' or '_' or '.' ? rune.ToString() : "-");
        string text = name.ToString().Trim(' ', '-', '.');
        if (!Names.IsUsable(text))
            text = $"{prefix}-{text}".TrimEnd('-');
        return Names.IsUsable(text) ? text : prefix;
    }
}
