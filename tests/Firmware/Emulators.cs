namespace Locum.Tests.Firmware;

/// <summary>The emulated boards, built once per test run.</summary>
public sealed class Emulators : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("locum-emulators-");

    public Emulators()
    {
        Avr = Build("avr", "avr_board");
        Stm32 = Build("stm32", "stm32_board");
    }

    public string Avr { get; }

    public string Stm32 { get; }

    public void Dispose() => _folder.Delete(recursive: true);

    private string Build(string name, string program)
    {
        var output = Path.Combine(_folder.FullName, name);
        Shell.Must("make", ["-s", "-C", RepoRoot.Path("tests", "emulators", name), $"OUT={output}"]);
        return Path.Combine(output, program);
    }
}
