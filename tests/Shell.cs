using Locum.Proving;

namespace Locum.Tests;

/// <summary>Runs other programs for tests.</summary>
internal static class Shell
{
    public static (int Code, string Output, string Error) Run(string command, IEnumerable<string> arguments, string? folder = null, string input = "") =>
        CCompiler.Run(command, arguments, folder ?? RepoRoot.Path(), input);

    /// <summary>Runs a program that must succeed; returns its output.</summary>
    public static string Must(string command, IEnumerable<string> arguments, string? folder = null, string input = "")
    {
        var (code, output, error) = Run(command, arguments, folder, input);
        return code is 0 ? output : throw new InvalidOperationException($"{command} ended with {code}:\n{output}\n{error}");
    }
}
