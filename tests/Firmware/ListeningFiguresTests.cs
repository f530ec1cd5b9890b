using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>What listening costs: a module that follows a received field beside the same module with a fixed value.</summary>
public sealed class ListeningFiguresTests(ITestOutputHelper log)
{
    private const string Stm32 = "stm32f103-bxcan";
    private const string Module =
        """
        locum: 1
        module: sender
        hazard: none
        buses: {body: {rate: 500 kbit/s}}
        receives: {DriveSpeed: {id: 0x155, timeout: 200 ms, fields: {speed: {bit: 8, bits: 12, scale: 0.05}}}}
        frames: {Echo: {id: 0x300, length: 8, every: 20 ms, offset: 5 ms, fields: {speed: {bit: 0, bits: 12, follow: DriveSpeed.speed, lost: 0}, n: {bit: 56, bits: 8, counter: {}}}}}
        """;

    private static readonly Stimulus s_heard = new()
    {
        EndUs = 5_000_000,
        Traffic = [new Traffic("body", new Locum.Wire.CanId(0x155, false), [0, 0x23, 0x01, 0, 0, 0, 0, 0], 500, 1_000, 5_000_000)],
    };

    [Fact]
    public void Listening_keeps_its_figures()
    {
        var table = new FigureTable();
        using var deaf = Build(Module.Replace("follow: DriveSpeed.speed, lost: 0", "value: 0", StringComparison.Ordinal)
            .Replace(Module.Split('\n')[4] + "\n", "", StringComparison.Ordinal));
        using var listening = Build(Module);
        var (without, with) = (FirmwareSize.Of("arm-none-eabi-", deaf.Elf), FirmwareSize.Of("arm-none-eabi-", listening.Elf));
        table.Set(Stm32, "flash without listening, bytes", without.Flash);
        table.Set(Stm32, "flash for one followed field, bytes", with.Flash - without.Flash);
        table.Set(Stm32, "static RAM for it, bytes", with.StaticRam - without.StaticRam);
        var (idle, busy) = (Measures(listening, s_heard with { Traffic = [] }), Measures(listening, s_heard));
        Assert.Equal(5_000, busy["frames_heard"], 1.0);
        table.Set(Stm32, "CPU awake per received frame, us", (busy["awake_us"] - idle["awake_us"]) / busy["frames_heard"], 1);
        // The same traffic under a neighbouring identifier stays outside.
        var passing = Measures(listening, s_heard with { Traffic = [s_heard.Traffic[0] with { Id = new Locum.Wire.CanId(0x154, false) }] });
        Assert.Equal(0, passing["frames_heard"]);
        table.Set(Stm32, "CPU awake per frame that the filter stops, us", (passing["awake_us"] - idle["awake_us"]) / busy["frames_heard"], 1);
        Answers(table);
        log.WriteLine(table.ToString());
        Committed.Hold(RepoRoot.Path("tests", "Firmware", "listening", "figures.txt"), table);
    }

    private static void Answers(FigureTable table)
    {
        var (plan, stimulus) = ListeningTests.Listener();
        using var board = new EmulatedBoard(plan);
        var delays = ListeningTests.AfterReception(plan, board.Simulate(stimulus), board.Run(stimulus));
        table.Set(Stm32, "end of a frame to the frame it causes, us", delays.Max(), 1);
    }

    private static EmulatedBoard Build(string module)
    {
        using var folder = new TempFolder();
        File.WriteAllText(folder.Path("sender.yaml"), module);
        File.WriteAllText(folder.Path("project.yaml"), $"locum: 1\nproject: figures\nboards: {{one: {{board: {Stm32}, modules: [sender.yaml], guards: {{foreign sender: ignore}}}}}}\n");
        var loaded = Loader.Load(folder.Path("project.yaml"));
        Assert.Empty(loaded.Diagnostics.Sorted);
        return new EmulatedBoard(Assert.Single(loaded.Plans));
    }

    private static IReadOnlyDictionary<string, double> Measures(EmulatedBoard board, Stimulus stimulus) => board.Run(stimulus).Output.Measures;
}
