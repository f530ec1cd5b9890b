using Locum.Planning;
using Locum.Simulation;
using Locum.Tests.Properties;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>What answering testers costs on the emulated boards: time from what a frame waits for to its request, and memory.</summary>
/// <remarks>Times run from the end of one frame to the request for the other.</remarks>
public sealed class AnsweringFiguresTests(ITestOutputHelper log)
{
    private const string Request = "receives: {Request: {id: 0x7E0}}";
    private const string Channel = "diagnostics: {t: {request: 0x7E0, response: 0x7E8, padding: 0xCC, identifiers: {0xF190: {text: DEPOT0000000LOCO1}, 0xF187: {bytes: 01 02 03 04}}}}";

    // Single frames of both kinds, a long answer at full speed, a long request.
    private const string Stimulus = """
        locum: 1
        stimulus: a tester
        for: 2 s
        traffic:
          b:
            - {id: 0x7E0, at: 110 ms, data: 02 3E 00}
            - {id: 0x7E0, at: 130 ms, data: 03 22 F1 87}
            - {id: 0x7E0, at: 150 ms, data: 03 22 F1 90}
            - {id: 0x7E0, at: 170 ms, data: 30 00 00}
            - {id: 0x7E0, at: 190 ms, data: 10 0B 22 F1 87 00 00 00}
            - {id: 0x7E0, at: 211 ms, data: 21 00 00 00 F1 90}
            - {id: 0x7E0, at: 230 ms, data: 30 01 00}
            - {id: 0x7E0, at: 250 ms, data: 30 00 00}
            - {id: 0x7E0, at: 270 ms, data: 02 10 03}
        """;

    [Fact]
    public void Answering_keeps_its_figures()
    {
        var table = new FigureTable();
        Measure("avr-mcp2515", "avr-", table);
        Measure("stm32f103-bxcan", "arm-none-eabi-", table);
        log.WriteLine(table.ToString());
        Committed.Hold(RepoRoot.Path("tests", "Firmware", "answering.txt"), table);
    }

    private static void Measure(string kind, string tools, FigureTable table)
    {
        var listening = Size(kind, tools, Request);
        var answering = Size(kind, tools, Channel);
        var slow = Size(kind, tools, Channel.Replace("LOCO1}", "LOCO1, after: 200 ms}", StringComparison.Ordinal));
        table.Set(kind, "flash, bytes, beyond listening", answering.Flash - listening.Flash);
        table.Set(kind, "static RAM, bytes", answering.StaticRam - listening.StaticRam);
        table.Set(kind, "flash for answers that take time, bytes", slow.Flash - answering.Flash);
        var (plan, stimulus) = Load(kind, Channel);
        using var board = new EmulatedBoard(plan);
        var run = board.Run(stimulus);
        Assert.Empty(run.Output.Faults);
        var expected = board.Simulate(stimulus).Frames;
        var own = expected.Where(f => f.Sender is "m.t").ToList();
        var got = run.Output.Frames.Where(f => f.Id == own[0].Id).ToList();
        Assert.Equal(own.Select(f => Convert.ToHexString(f.Data)), got.Select(f => Convert.ToHexString(f.Data)));
        var causes = own.Select(f => Cause(f, expected)).ToList();
        foreach (var (name, wanted) in new[] { ("request to answer", "0"), ("first frame to flow control", "1"), ("last consecutive frame to answer", "2"), ("flow control to next frame", "3") })
        {
            var after = Enumerable.Range(0, own.Count).Where(i => causes[i] is { } c && $"{c.Data[0] >> 4}" == wanted).Select(i => run.Clock.Simulated(got[i].AcceptedUs) - causes[i]!.EndUs).ToList();
            Assert.NotEmpty(after);
            Assert.All(after, us => Assert.InRange(us, 0, 400));
            table.Set(kind, $"{name}, us", after.Max(), 1);
        }
        var following = Enumerable.Range(1, own.Count - 1).Where(i => causes[i] is null).Select(i => got[i].AcceptedUs - got[i - 1].EndUs).ToList();
        Assert.NotEmpty(following);
        table.Set(kind, "own frame to the next one, us", following.Max(), 1);
    }

    // The tester's frame that has just ended; null when the frame follows the module's own.
    private static SentFrame? Cause(SentFrame own, IReadOnlyList<SentFrame> all) => all.FirstOrDefault(f => f.Sender is "" && f.EndUs == own.AcceptedUs);

    private static FirmwareSize Size(string kind, string tools, string more)
    {
        using var board = new EmulatedBoard(Load(kind, more).Plan);
        return FirmwareSize.Of(tools, board.Elf);
    }

    private static (BoardPlan Plan, Model.Stimulus Stimulus) Load(string kind, string more)
    {
        var description = $"locum: 1\nmodule: m\nhazard: none\nbuses: {{b: {{rate: 500 kbit/s}}}}\nframes: {{Status: {{id: 0x2D1, length: 8, every: 1 s, offset: 3 ms}}}}\n{more}\n";
        var loaded = new GeneratedProject([description], [Stimulus]).Load();
        return (GeneratedProject.On(kind, loaded.Use)!, loaded.Stimuli[0]);
    }
}
