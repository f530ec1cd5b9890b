using Locum.Boards;
using Locum.Model;
using Locum.Planning;
using Locum.Rendering;
using Locum.Simulation;

namespace Locum.Proving;

/// <summary>Compiles a board's generated C for the PC and runs it beside the simulator.</summary>
public static class Prover
{
    /// <param name="extraFlags">More compiler flags, such as sanitizers.</param>
    public static ProofResult Prove(BoardPlan plan, Stimulus stimulus, string project, string version, CCompiler compiler, IEnumerable<string>? extraFlags = null)
    {
        var onPc = OnPc(plan);
        var folder = Directory.CreateTempSubdirectory("locum-prove-");
        try
        {
            if (Build(onPc, project, version, compiler, folder.FullName, extraFlags) is { } messages)
                return new ProofResult(false, 0, $"the generated C does not compile:\n{messages}");
            return Compare(onPc, stimulus, folder.FullName);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    /// <summary>The same modules, buses and inputs on the PC.</summary>
    public static BoardPlan OnPc(BoardPlan plan) => plan with { Kind = BoardCatalogue.Find(BoardPlanner.PcBoard)! };

    /// <summary>Writes and builds the PC program in a folder; null when it went well, otherwise the compiler's messages.</summary>
    public static string? Build(BoardPlan onPc, string project, string version, CCompiler compiler, string folder, IEnumerable<string>? extraFlags = null)
    {
        var files = FirmwareRenderer.Render(onPc, project, version);
        foreach (var file in files)
            file.Save(folder);
        var (ok, messages) = compiler.Build(folder, files.Select(f => f.Path).Where(p => p.EndsWith(".c", StringComparison.Ordinal)), Program(folder), extraFlags);
        return ok ? null : messages;
    }

    /// <summary>Runs a built PC program and holds it against the simulator.</summary>
    public static ProofResult Compare(BoardPlan onPc, Stimulus stimulus, string folder)
    {
        var expected = Simulator.Run([onPc], stimulus);
        if (expected.Runaway is { } runaway)
            return new ProofResult(false, 0, $"the simulator ended at {runaway.AtUs} us: {RunawayNote.Of([onPc], runaway)}\n");
        var (code, output, error) = CCompiler.Run(Program(folder), [], folder, ProofScript.Of(onPc, stimulus));
        if (code is not 0)
            return new ProofResult(false, 0, $"the program ended with code {code}:\n{error}");
        var difference = Comparison.FirstDifference(onPc, expected, ProgramOutput.Parse(output, onPc));
        return new ProofResult(difference is null, expected.Frames.Count, difference);
    }

    private static string Program(string folder) => Path.Combine(folder, OperatingSystem.IsWindows() ? "firmware.exe" : "firmware");
}

/// <summary>What came of a proof.</summary>
/// <param name="Frames">How many frames were compared.</param>
/// <param name="Difference">The first difference in words; null when there is none.</param>
public sealed record ProofResult(bool Equal, int Frames, string? Difference);
