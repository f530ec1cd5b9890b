namespace Locum.Tests.Firmware;

/// <summary>The emulated boards, each built when a test first asks for it, once per test run.</summary>
internal static class Emulators
{
    private static readonly string s_folder = KeptBuilds.Folder("emulators");
    private static readonly Lazy<string> s_avr = new(() => Build("avr", "avr_board"));
    private static readonly Lazy<string> s_stm32 = new(() => Build("stm32", "stm32_board"));
    private static readonly Lazy<string> s_socketCan = new(() => Build("socketcan", "socketcan_board"));
    private static readonly Lazy<string> s_sam3x = new(() => Build("sam3x", "sam3x_board"));
    private static readonly Lazy<string> s_twai = new(() => Build("twai", "model.o"));
    private static readonly Lazy<string> s_rp2040 = new(() => Build("rp2040", "rp2040_board"));
    private static readonly Lazy<string> s_imxrt = new(() => Build("imxrt", "imxrt_board"));

    public static string Avr => s_avr.Value;

    public static string Stm32 => s_stm32.Value;

    /// <summary>Runs a program for Linux; its first argument behind the script is the library beside it.</summary>
    public static string SocketCan => s_socketCan.Value;

    public static string Sam3x => s_sam3x.Value;

    public static string Imxrt => s_imxrt.Value;

    public static string Rp2040 => s_rp2040.Value;

    /// <summary>Folder of the model that programs for the TWAI driver are linked with.</summary>
    public static string Twai => Path.GetDirectoryName(s_twai.Value)!;

    private static string Build(string name, string program)
    {
        var output = Path.Combine(s_folder, name);
        Shell.Must("make", ["-s", "-C", RepoRoot.Path("tests", "emulators", name), $"OUT={output}"]);
        return Path.Combine(output, program);
    }
}
