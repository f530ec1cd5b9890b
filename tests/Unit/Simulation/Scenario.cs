using Locum.Model;
using Locum.Planning;
using Locum.Proving;
using Locum.Simulation;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>A small module and what must happen to it; holds for the simulator and for the compiled program alike.</summary>
/// <param name="Description">The description behind its first three lines.</param>
/// <param name="Stimulus">The stimulus behind its first two lines.</param>
internal sealed record Scenario(string Description, string Stimulus)
{
    /// <summary>One line per frame of the board: "accepted id data start end", times in µs, "-" for none. A "*" stands for anything, words at the end may be left out.</summary>
    public string Frames { get; init; } = "";

    /// <summary>One line per mode change: "time mode".</summary>
    public string Modes { get; init; } = "";

    /// <summary>Skipped releases: "Frame count", one line for every frame that skipped any.</summary>
    public string Skipped { get; init; } = "";

    /// <summary>The board's guards, as a flow mapping.</summary>
    public string Guards { get; init; } = "";

    /// <summary>One line per begin and end of silence: "time reason".</summary>
    public string Silences { get; init; } = "";

    /// <summary>"time output on|off", a line each.</summary>
    public string Outputs { get; init; } = "";

    public void Holds()
    {
        var loaded = new GeneratedProject(
            [$"locum: 1\nmodule: m\nhazard: none\n{Description}"],
            [$"locum: 1\nstimulus: scenario\n{Stimulus}"])
        {
            Guards = Guards,
        }.Load();
        var (plan, stimulus) = (loaded.Plan, loaded.Stimuli[0]);
        var simulated = Simulator.Run([plan], stimulus);
        Check(plan, "simulator",
            simulated.Frames.Where(f => f.Sender.Length > 0).Select(f => $"{f.AcceptedUs} {f.Id} {Data(f.Data)} {Time(f.StartUs)} {Time(f.EndUs)}"),
            simulated.Modes, simulated.Silences, simulated.Outputs, simulated.Skipped[0]);
        var program = RunProgram(plan, stimulus);
        Check(plan, "program",
            program.Frames.Select(f => $"{f.AcceptedUs} {f.Id} {Data(f.Data)} {Time(f.StartUs)} {Time(f.EndUs)}"),
            program.Modes, program.Silences, program.Outputs, program.Skipped);
    }

    private static ProgramOutput RunProgram(BoardPlan plan, Stimulus stimulus)
    {
        using var folder = new TempFolder();
        QuickCompiler.Build(plan, folder.Path());
        var (code, output, error) = CCompiler.Run(folder.Path("firmware"), [], folder.Path(), ProofScript.Of(plan, stimulus));
        Assert.True(code is 0, error);
        return ProgramOutput.Parse(output, plan);
    }

    private void Check(BoardPlan plan, string who, IEnumerable<string> frames, IReadOnlyList<ModeChange> modes, IReadOnlyList<SilenceChange> silences, IReadOnlyList<OutputChange> outputs, IReadOnlyList<long> skipped)
    {
        Compare(who, Frames, frames);
        Compare(who, Modes, modes.Select(m => $"{m.AtUs} {plan.Modules[m.Module].Module.Modes[m.Mode].Name}"));
        Compare(who, Silences, silences.Select(s => $"{s.AtUs} {s.Reason}"));
        Compare(who, Outputs, outputs.Select(o => $"{o.AtUs} {plan.Outputs[o.Output].Output.Name} {(o.On ? "on" : "off")}"));
        Compare(who, Skipped, plan.Frames.Where(f => skipped[f.Row] > 0).Select(f => $"{f.Frame.Name} {skipped[f.Row]}"));
    }

    private static void Compare(string who, string expected, IEnumerable<string> actual)
    {
        var wanted = expected.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        var got = actual.ToList();
        var same = wanted.Length == got.Count && wanted.Zip(got).All(p => Matches(p.First.Split(' '), p.Second.Split(' ')));
        Assert.True(same, $"{who}: expected\n{string.Join('\n', wanted)}\nbut got\n{string.Join('\n', got)}");
    }

    private static bool Matches(string[] wanted, string[] got) => wanted.Length <= got.Length && wanted.Zip(got).All(p => p.First is "*" || p.First == p.Second);

    private static string Data(byte[] data) => data.Length is 0 ? "-" : Convert.ToHexString(data);

    private static string Time(double us) => us < 0 ? "-" : $"{us}";
}
