using System.Reflection;
using System.Text;

namespace Locum.Text;

/// <summary>Files built into the program: templates/… and core/….</summary>
public static class Resources
{
    private static readonly Assembly s_assembly = typeof(Resources).Assembly;

    // The build names resources with the separators of the machine it runs on.
    private static readonly Dictionary<string, string> s_actual =
        s_assembly.GetManifestResourceNames().ToDictionary(n => n.Replace('\\', '/'), StringComparer.Ordinal);

    /// <summary>All names, with '/' between folders.</summary>
    public static IReadOnlyCollection<string> Names => s_actual.Keys;

    /// <summary>The text of a file, line ends as "\n"; throws when there is no such file.</summary>
    public static string Text(string name)
    {
        if (!s_actual.TryGetValue(name, out var actual))
            throw new FileNotFoundException($"no built-in file '{name}'");
        using var stream = s_assembly.GetManifestResourceStream(actual)!;
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return reader.ReadToEnd().ReplaceLineEndings("\n");
    }
}
