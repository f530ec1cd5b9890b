using Locum.Boards;
using Locum.Diagnostics;
using Locum.Pipeline;
using Locum.Planning;
using Locum.Proving;
using Locum.Rendering;
using Locum.Tests.Golden;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Firmware;

/// <summary>Generated C under several compilers, optimisations and targets, always with warnings as errors.</summary>
public sealed class CompileMatrixTests
{
    private static readonly string[] s_levels = ["-O0", "-O2", "-Os"];

    public static TheoryData<string> Stm32Boards => [.. BoardCatalogue.Names.Where(n => n.StartsWith("stm32", StringComparison.Ordinal))];

    public static TheoryData<string> ValidCases => [.. Corpus.Cases("valid")];

    [Theory]
    [InlineData("gcc", "-Os")]
    [Sampled("clang", "-O0")]
    [Sampled("clang", "-O2")]
    [InlineData("gcc", "-fsanitize=address,undefined", "-fno-sanitize-recover=all")]
    [InlineData("clang", "-fsanitize=undefined", "-fsanitize-trap=undefined")]
    public void Demo_boards_prove_equal(string command, params string[] flags)
    {
        var compiler = CCompiler.Find(command);
        Assert.NotNull(compiler);
        var demo = Demo();
        // Few runs of the compiler; one for each file is what 'locum prove' does (ApplicationTests).
        using var build = new JoinedBuild(compiler, flags, []);
        foreach (var plan in demo.Plans)
        {
            var proof = build.Prove(plan, demo.Stimuli[plan.Name]);
            Assert.True(proof.Equal, proof.Difference);
            Assert.True(proof.Frames > 100);
        }
    }

    // Every feature of the port that a description can ask for, on as many buses as the board has.
    [Theory]
    [MemberData(nameof(Stm32Boards))]
    public void Every_board_builds_and_links_without_a_warning(string kind)
    {
        var controllers = BoardCatalogue.Find(kind)!.Controllers;
        (int Buses, string Guards)[] most = [(controllers, "{bus off: {recoveries: 3, within: 60 s, wait: 300 ms}, run at most: 8 h, reset: resume}")];
        foreach (var (buses, guards) in Cases.Long ? [.. most, (1, "{foreign sender: ignore}")] : most)
        {
            var plan = CrowdedBoard.On(kind, buses, guards).Plan;
            CheckLines(plan);
            using var folder = new FirmwareFolder(plan);
            Assert.Equal("", folder.Make());
            Assert.True(new FileInfo(Path.Combine(folder.Root, "firmware.bin")).Length > 2_000);
        }
    }

    // Compilers take turns, each case meets both in a long run; the levels go round.
    [Theory]
    [MemberData(nameof(ValidCases))]
    public void Valid_cases_compile(string name)
    {
        var level = Corpus.Cases("valid").ToList().IndexOf(name);
        foreach (var plan in Corpus.Load("valid", name).Plans)
        {
            using var folder = new FirmwareFolder(Prover.OnPc(plan));
            var generated = folder.Portable.Where(p => !p.StartsWith("core/", StringComparison.Ordinal)).ToList();
            if (Cases.Long || level % 2 is 0)
                Assert.Equal("", folder.Compile("gcc", [s_levels[level % s_levels.Length]], generated));
            if (Cases.Long || level % 2 is 1)
                Assert.Equal("", folder.Compile("clang", [s_levels[(level + 1) % s_levels.Length]], generated));
        }
    }

    // The boards' own Makefiles; every guard and every kind of frame of the demo, on boards that it was not planned for. A usual run
    // has some modules for each board and each module on some board.
    [Theory]
    [InlineData(0, "linux-socketcan")]
    [InlineData(1, "sam3x8e-can")]
    [InlineData(2, "rp2040-mcp2515")]
    [InlineData(3, "rp2040-mcp2518fd")]
    [InlineData(4, "imxrt1062-flexcan")]
    [InlineData(5, "own-board")]
    [InlineData(6, "esp32-twai")]
    [InlineData(0, "esp32c6-twai")]
    public void Demo_modules_build_on_other_boards(int turn, string kind)
    {
        const int Turns = 4;
        var built = 0;
        foreach (var use in Demo().Project!.Boards.Where((_, i) => Cases.Long || i % Turns == turn % Turns))
        {
            var plan = BoardPlanner.Plan(OtherBoards.Move(use, kind), new DiagnosticBag());
            if (plan!.Buses.Count > plan.Kind.Controllers || (plan.Buses.Any(b => b.DataRate is not null) && !plan.Kind.Fd))
                continue;
            using var folder = new FirmwareFolder(plan);
            Assert.Equal("", plan.Kind.ControllerKind is "twai" ? OtherBoards.CompileWithStubs(folder) : folder.Make());
            CheckLines(plan);
            built++;
        }
        Assert.True(built >= (Cases.Long ? Turns : 1));
    }

    [Theory]
    [MemberData(nameof(ValidCases))]
    public void Generated_lines_are_ascii_and_not_too_long(string name)
    {
        foreach (var plan in Corpus.Load("valid", name).Plans)
            CheckLines(Prover.OnPc(plan));
    }

    [Fact]
    public void Generated_lines_of_the_demo_are_ascii_and_not_too_long()
    {
        foreach (var plan in Demo().Plans)
            CheckLines(plan);
    }

    internal static Loaded Demo()
    {
        var loaded = Loader.Load(RepoRoot.Path("projects", "depot-loco"));
        Assert.False(loaded.Diagnostics.HasErrors);
        Assert.NotEmpty(loaded.Plans);
        return loaded;
    }

    private static void CheckLines(BoardPlan plan)
    {
        const int Widest = 120;
        using var folder = new FirmwareFolder(plan);
        foreach (var file in folder.Files.Where(f => f.Path.EndsWith(".c", StringComparison.Ordinal) || f.Path.EndsWith(".h", StringComparison.Ordinal)))
        {
            var lines = file.Text.Split('\n');
            for (var i = 0; i < lines.Length; i++)
            {
                Assert.True(lines[i].Length <= Widest, $"{file.Path}:{i + 1} has {lines[i].Length} columns");
                Assert.True(lines[i].All(c => c is >= ' ' and <= '~' or '\t'), $"{file.Path}:{i + 1} is not ASCII: {lines[i]}");
            }
        }
    }
}
