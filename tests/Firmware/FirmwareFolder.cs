using Locum.Planning;
using Locum.Rendering;

namespace Locum.Tests.Firmware;

/// <summary>A generated firmware project on disk.</summary>
internal sealed class FirmwareFolder : IDisposable
{
    private readonly TempFolder _folder = new();

    public FirmwareFolder(BoardPlan plan)
    {
        Files = FirmwareRenderer.Render(plan, "test", "0");
        foreach (var file in Files)
        {
            Directory.CreateDirectory(Path.GetDirectoryName(_folder.Path(file.Path))!);
            File.WriteAllText(_folder.Path(file.Path), file.Text);
        }
    }

    public IReadOnlyList<OutputFile> Files { get; }

    public string Root => _folder.Path();

    /// <summary>C files that the board's port does not bring: what was generated, and the core.</summary>
    public IEnumerable<string> Portable => Files.Select(f => f.Path)
        .Where(p => p.EndsWith(".c", StringComparison.Ordinal) && !p.StartsWith("port/", StringComparison.Ordinal));

    /// <summary>What a compiler says to the given files; empty when it accepts them in silence.</summary>
    public string Compile(string compiler, IEnumerable<string> flags, IEnumerable<string> files)
    {
        var (code, output, error) = Shell.Run(compiler, ["-std=c99", "-Wall", "-Wextra", "-Wconversion", "-Werror", "-I.", "-Icore", "-Iport", .. flags, "-c", .. files], Root);
        return code is 0 ? output + error : $"{compiler} ended with {code}\n{output}{error}";
    }

    /// <summary>Builds with the project's own Makefile; what it says, empty when it went well without a warning.</summary>
    public string Make()
    {
        var (code, output, error) = Shell.Run("make", ["-s", "-j2"], Root);
        return code is 0 && !output.Contains("warning", StringComparison.OrdinalIgnoreCase) ? error : $"make ended with {code}\n{output}{error}";
    }

    public void Dispose() => _folder.Dispose();
}
