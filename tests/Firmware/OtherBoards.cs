using Locum.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Firmware;

/// <summary>The demo's modules on boards that its project does not use.</summary>
internal static class OtherBoards
{
    /// <summary>The same modules and guards on another kind of board, with its default pins.</summary>
    public static BoardUse Move(BoardUse use, string kind) => GeneratedProject.WithPins(use with
    {
        Kind = kind,
        BusSettings = new Dictionary<string, IReadOnlyDictionary<string, Setting>>(),
        InputSettings = new Dictionary<string, IReadOnlyDictionary<string, Setting>>(),
        Led = null,
    });

    /// <summary>What two compilers say to all sources of a board whose maker's system is not at hand; empty when they accept them.</summary>
    public static string CompileWithStubs(FirmwareFolder folder)
    {
        var sources = folder.Files.Select(f => f.Path).Where(p => p.EndsWith(".c", StringComparison.Ordinal)).ToList();
        string[] flags = ["-Os", "-DESP_PLATFORM", $"-I{RepoRoot.Path("tests", "emulators", "twai", "include")}"];
        return folder.Compile("gcc", flags, sources) + folder.Compile("clang", flags, sources);
    }

    /// <summary>A board of the demo as another kind, and its stimulus for emulators, whose clocks begin at 0 and never stall.</summary>
    public static (BoardPlan Plan, Stimulus Stimulus) Demo(string board, string kind)
    {
        var demo = CompileMatrixTests.Demo();
        var diagnostics = new DiagnosticBag();
        var plan = BoardPlanner.Plan(Move(demo.Project!.Boards.Single(b => b.Name == board), kind), diagnostics);
        Assert.False(diagnostics.HasErrors, string.Join('\n', diagnostics.Sorted.Select(d => d.Message)));
        return (plan!, demo.Stimuli[board] with { Clock = 0, Stalls = [] });
    }
}
