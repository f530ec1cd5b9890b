using System.Diagnostics;

namespace Locum.Tests;

/// <summary>Runs other programs for tests.</summary>
internal static class Shell
{
    public static (int Code, string Output, string Error) Run(string command, IEnumerable<string> arguments, string? folder = null, string input = "")
    {
        using var process = Process.Start(new ProcessStartInfo(command, arguments)
        {
            WorkingDirectory = folder ?? RepoRoot.Path(),
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        })!;
        var output = process.StandardOutput.ReadToEndAsync();
        var error = process.StandardError.ReadToEndAsync();
        process.StandardInput.Write(input);
        process.StandardInput.Close();
        process.WaitForExit();
        return (process.ExitCode, output.Result, error.Result);
    }

    /// <summary>Runs a program that must succeed; returns its output.</summary>
    public static string Must(string command, IEnumerable<string> arguments, string? folder = null, string input = "")
    {
        var (code, output, error) = Run(command, arguments, folder, input);
        return code is 0 ? output : throw new InvalidOperationException($"{command} ended with {code}:\n{output}\n{error}");
    }
}
