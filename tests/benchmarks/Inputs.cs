using System.Globalization;
using System.Text;
using Locum.Model;
using Locum.Pipeline;
using Locum.Planning;
using Locum.Tests;

namespace Locum.Benchmarks;

/// <summary>What is measured.</summary>
internal static class Inputs
{
    public static string Demo { get; } = RepoRoot.Path("projects", "depot-loco");

    /// <summary>Twelve frames beside other traffic, the bus busy for four fifths of the time.</summary>
    public static (BoardPlan Plan, Stimulus Stimulus) Twelve()
    {
        var loaded = Loader.Load(RepoRoot.Path("tests", "benchmarks", "twelve", "on-stm32.yaml"));
        return (loaded.Plans[0], loaded.Stimuli[loaded.Plans[0].Name]);
    }

    /// <summary>A hundred frames with counter and CRC-8 each, on an otherwise quiet bus.</summary>
    public static (BoardPlan Plan, Stimulus Stimulus) Hundred()
    {
        var text = new StringBuilder("locum: 1\nmodule: hundred\nsummary: a hundred frames\nhazard: none\nbuses:\n  body: {rate: 1000 kbit/s}\nframes:\n");
        for (var i = 0; i < 100; i++)
            text.Append(CultureInfo.InvariantCulture, $"""
                  F{i}:
                    id: 0x{0x100 + 7 * i:X}
                    length: 8
                    every: {20 + 10 * (i % 9)} ms
                    offset: {i * 300 % 20_000} us
                    fields:
                      load: {"{"}bit: 8, bits: 16, value: {i}{"}"}
                      alive: {"{"}bit: 48, bits: 4, counter: {"{"}from: 0, to: 14{"}"}{"}"}
                      guard: {"{"}bit: 56, bits: 8, checksum: {"{"}rule: crc8-sae-j1850, over: 0..6{"}"}{"}"}

                """);
        var path = Path.Combine(Path.GetTempPath(), $"locum-hundred-{Environment.ProcessId}.yaml");
        File.WriteAllText(path, text.ToString());
        try
        {
            var loaded = Loader.Load(path);
            if (loaded.Diagnostics.HasErrors)
                throw new InvalidOperationException(loaded.Diagnostics.Sorted[0].Message);
            return (loaded.Plans[0], new Stimulus { EndUs = 5_000_000 });
        }
        finally
        {
            File.Delete(path);
        }
    }

    /// <summary>The same stimulus for another time.</summary>
    public static Stimulus For(Stimulus stimulus, long endUs) =>
        stimulus with { EndUs = endUs, Traffic = [.. stimulus.Traffic.Select(t => t with { UntilUs = endUs })] };
}
