using System.ComponentModel;
using System.Diagnostics;

namespace Locum.Proving;

/// <summary>The PC's C compiler.</summary>
public sealed class CCompiler
{
    private static readonly string[] s_usual = ["cc", "gcc", "clang"];

    private CCompiler(string command)
    {
        Command = command;
    }

    public string Command { get; }

    /// <summary>Strict flags; generated code must pass them without a warning.</summary>
    public static IReadOnlyList<string> Flags { get; } = ["-std=c99", "-O2", "-Wall", "-Wextra", "-Wconversion", "-Werror"];

    /// <summary>The compiler named by the variable CC, else the first of cc, gcc and clang that runs; null when there is none.</summary>
    public static CCompiler? Find()
    {
        var named = Environment.GetEnvironmentVariable("CC");
        var candidates = string.IsNullOrWhiteSpace(named) ? s_usual : [named];
        return candidates.Select(Find).FirstOrDefault(c => c is not null);
    }

    /// <summary>The compiler of a name or path; null when it does not run.</summary>
    public static CCompiler? Find(string command) => Runs(command) ? new CCompiler(command) : null;

    /// <summary>Compiles and links sources; the messages are empty when it went well.</summary>
    /// <param name="folder">Sources and include folders are relative to it.</param>
    public (bool Ok, string Messages) Build(string folder, IEnumerable<string> sources, string program, IEnumerable<string>? extraFlags = null)
    {
        var (code, output, error) = Run(Command, [.. Flags, .. extraFlags ?? [], "-I.", "-Icore", "-Iport", .. sources, "-o", program], folder, "");
        return (code is 0, output + error);
    }

    /// <summary>Runs a program with a text as its standard input.</summary>
    public static (int Code, string Output, string Error) Run(string command, IEnumerable<string> arguments, string folder, string input)
    {
        using var process = Process.Start(new ProcessStartInfo(command, arguments)
        {
            WorkingDirectory = folder,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
        })!;
        var output = process.StandardOutput.ReadToEndAsync();
        var error = process.StandardError.ReadToEndAsync();
        try
        {
            process.StandardInput.Write(input);
            process.StandardInput.Close();
        }
        catch (IOException)
        {
            // The program ended before it read everything; its exit code and messages tell why.
        }
        process.WaitForExit();
        return (process.ExitCode, output.Result, error.Result);
    }

    private static bool Runs(string command)
    {
        try
        {
            return Run(command, ["--version"], Directory.GetCurrentDirectory(), "").Code is 0;
        }
        catch (Win32Exception)
        {
            return false;
        }
    }
}
