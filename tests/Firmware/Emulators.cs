namespace Locum.Tests.Firmware;

/// <summary>The emulated boards, built once per test run.</summary>
public sealed class Emulators : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("locum-emulators-");

    private readonly Lazy<string> _socketCan;
    private readonly Lazy<string> _sam3x;
    private readonly Lazy<string> _twai;
    private readonly Lazy<string> _rp2040;
    private readonly Lazy<string> _imxrt;

    public Emulators()
    {
        _socketCan = new(() => Build("socketcan", "socketcan_board"));
        _twai = new(() => Build("twai", "model.o"));
        _sam3x = new(() => Build("sam3x", "sam3x_board"));
        _rp2040 = new(() => Build("rp2040", "rp2040_board"));
        _imxrt = new(() => Build("imxrt", "imxrt_board"));
        Avr = Build("avr", "avr_board");
        Stm32 = Build("stm32", "stm32_board");
    }

    public string Avr { get; }

    public string Stm32 { get; }

    /// <summary>Runs a program for Linux; its first argument behind the script is the library beside it.</summary>
    public string SocketCan => _socketCan.Value;

    public string Sam3x => _sam3x.Value;

    public string Imxrt => _imxrt.Value;

    public string Rp2040 => _rp2040.Value;

    /// <summary>Folder of the model that programs for the TWAI driver are linked with.</summary>
    public string Twai => Path.GetDirectoryName(_twai.Value)!;

    public void Dispose() => _folder.Delete(recursive: true);

    private string Build(string name, string program)
    {
        var output = Path.Combine(_folder.FullName, name);
        Shell.Must("make", ["-s", "-C", RepoRoot.Path("tests", "emulators", name), $"OUT={output}"]);
        return Path.Combine(output, program);
    }
}
