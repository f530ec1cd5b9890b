using System.Diagnostics;
using Locum.Model;
using Locum.Planning;
using Locum.Proving;
using Locum.Simulation;

namespace Locum.Benchmarks;

/// <summary>Frames per second of the simulator and of the compiled C program on one stimulus, taken in turns in one run.</summary>
internal static class Rates
{
    private const int Rounds = 7;
    private const long SimulatorUs = 60_000_000;
    private const long ProgramUs = 600_000_000;
    private const long StartUs = 1_000;

    public static int Print()
    {
        if (CCompiler.Find() is not { } compiler)
        {
            Console.Error.WriteLine("no C compiler was found");
            return 2;
        }
        Console.WriteLine($"{"module",-10}{"simulator, frames/s",22}{"C program, frames/s",22}{"C / simulator",16}");
        Line("twelve", Inputs.Twelve(), compiler);
        Line("hundred", Inputs.Hundred(), compiler);
        return 0;
    }

    private static void Line(string name, (BoardPlan Plan, Stimulus Stimulus) input, CCompiler compiler)
    {
        var plan = Prover.OnPc(input.Plan);
        var folder = Directory.CreateTempSubdirectory("locum-rates-");
        try
        {
            if (Prover.Build(plan, "rates", "0", compiler, folder.FullName) is { } messages)
                throw new InvalidOperationException(messages);
            var simulated = new List<double>();
            var compiled = new List<double>();
            Simulate(plan, input.Stimulus);
            for (var round = 0; round < Rounds; round++)
            {
                simulated.Add(Simulate(plan, input.Stimulus));
                compiled.Add(RunProgram(plan, input.Stimulus, folder.FullName));
            }
            Console.WriteLine($"{name,-10}{Median(simulated),22:N0}{Median(compiled),22:N0}{Median(compiled) / Median(simulated),16:0.0}");
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    // All frames count, those of other nodes, too: both sides model them.
    private static double Simulate(BoardPlan plan, Stimulus stimulus)
    {
        var clock = Stopwatch.StartNew();
        var frames = Simulator.Run([plan], Inputs.For(stimulus, SimulatorUs)).Frames.Count;
        return frames / clock.Elapsed.TotalSeconds;
    }

    // The program prints only the board's own frames, so the share of all is taken from the simulator. Its
    // start is measured by a run that ends at once.
    private static double RunProgram(BoardPlan plan, Stimulus stimulus, string folder)
    {
        var start = Time(plan, Inputs.For(stimulus, StartUs), folder);
        var whole = Time(plan, Inputs.For(stimulus, ProgramUs), folder);
        var frames = Simulator.Run([plan], Inputs.For(stimulus, SimulatorUs)).Frames.Count * (double)ProgramUs / SimulatorUs;
        return frames / (whole - start);
    }

    private static double Time(BoardPlan plan, Stimulus stimulus, string folder)
    {
        var script = ProofScript.Of(plan, stimulus);
        var clock = Stopwatch.StartNew();
        var (code, _, error) = CCompiler.Run(Path.Combine(folder, "firmware"), [], folder, script);
        return code is 0 ? clock.Elapsed.TotalSeconds : throw new InvalidOperationException(error);
    }

    private static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);
}
