using Locum.Tests.Unit.Cli;

namespace Locum.Tests.Unit.Pages;

/// <summary>Reports of projects that tests make.</summary>
internal static class Samples
{
    /// <summary>Text that would be markup, script, or a change of direction if it were not shown as text.</summary>
    public const string Hostile = "</script></style></title><img src=x onerror=alert(1)>\"'&amp;{{ 7 * 7 }}\u202e-->]]>";

    /// <summary>A description in which every free text is hostile.</summary>
    public static string HostileText()
    {
        var quoted = $"\"{Hostile.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal)}\"";
        return $$"""
            # {{Hostile}}
            locum: 1
            module: hostile
            summary: {{quoted}}
            hazard: braking
            acknowledge: {{quoted}}
            buses:
              body: {rate: 500 kbit/s}
            frames:
              # {{Hostile}}
              F:
                id: 0x100
                length: 8
                every: 20 ms
                fields:
                  a: {bit: 0, bits: 8, unit: {{quoted}}, value: 1}  # {{Hostile}}
            """;
    }

    /// <summary>Writes a text and the report about it; returns the page's path.</summary>
    public static string Report(TempFolder folder, string name, string text, params string[] options)
    {
        File.WriteAllText(folder.Path($"{name}.yaml"), text);
        return ReportOf(folder, name, folder.Path($"{name}.yaml"), options);
    }

    /// <summary>The report about a path; returns the page's path.</summary>
    public static string ReportOf(TempFolder folder, string name, string path, params string[] options)
    {
        var page = folder.Path($"{name}.html");
        var (code, output, error) = CommandLine.Run(["report", path, "--out", page, .. options]);
        return code is 0 && output.Length is 0 ? page : throw new InvalidOperationException($"report ended with {code}: {error}");
    }
}
