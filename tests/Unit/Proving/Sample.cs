using Locum.Model;
using Locum.Planning;
using Locum.Proving;
using Locum.Simulation;
using Locum.Tests.Properties;
using Comparison = Locum.Proving.Comparison;

namespace Locum.Tests.Unit.Proving;

/// <summary>A small board, what the simulator makes of it, and what an equal program prints.</summary>
internal static class Sample
{
    public static BoardPlan Plan { get; } = Project().Plan;

    public static Stimulus Stimulus { get; } = Project().Stimuli[0];

    public static SimulationResult Simulated { get; } = Simulator.Run([Plan], Stimulus);

    /// <summary>The output of a program that does the same.</summary>
    public static ProgramOutput Equal { get; } = new(
        [.. Simulated.Frames.Select(f => new PrintedFrame(f.Bus, f.Id, f.Data, f.AcceptedUs, f.StartUs, f.EndUs))],
        Simulated.Modes, Simulated.Skipped[0], new Dictionary<string, double>(), []);

    /// <summary>The equal program with one frame changed.</summary>
    public static ProgramOutput With(int index, Func<PrintedFrame, PrintedFrame> change) =>
        Equal with { Frames = [.. Equal.Frames.Select((f, i) => i == index ? change(f) : f)] };

    public static string? Compare(ProgramOutput output) => Comparison.FirstDifference(Plan, Simulated, output);

    // A sends 00, 11, ... at 0, 1 ms, ...; the mode changes at 2.5 ms; stalled for two releases.
    private static LoadedProject Project() => new GeneratedProject(
        [
            """
            locum: 1
            module: m
            hazard: none
            buses: {b: {rate: 1 Mbit/s}}
            modes: {early: {for: 2500 us, then: late}, late: {}}
            frames:
              A: {id: 0x123, length: 2, every: 1 ms, fields: {n: {bit: 4, bits: 8, order: little, counter: {}}, top: {bit: 12, bits: 4, value: 0xC}}}
            """,
        ],
        ["locum: 1\nstimulus: s\nfor: 6900 us\nstalls: [{from: 3500 us, until: 5500 us}]\n"]).Load();
}
