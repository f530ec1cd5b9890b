using System.Text;
using Locum.Proving;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Properties;

/// <summary>A small module through many wraps of the 32-bit microsecond clock (one in 71.6 minutes).</summary>
public sealed class SoakTests(ITestOutputHelper log)
{
    private const int Days = 60;
    private const int LongDays = 200;
    private const int HoursBetweenEdges = 5;

    private const string Module = """
        locum: 1
        module: sentinel
        hazard: none
        buses: {yard: {rate: 125 kbit/s}}
        inputs: {key: {active: low, debounce: 900 s}}
        modes:
          quiet: {sleep: yes, until: {key: active, then: awake}}
          awake: {for: 3.3 h, then: tired, until: {key: inactive, then: quiet}}   # 11 laps of 2^30 us
          tired: {for: 1073.741824 s, then: awake, until: {key: inactive, then: quiet}}
        frames:
          Beat:
            id: 0x321
            length: 5
            every: 9.999991 s
            in: [awake, tired]
            fields:
              mode: {bit: 0, bits: 4, value: {awake: 1, other: 2}}
              beat: {bit: 8, bits: 24, order: little, counter: {from: 3, to: 16777214, step: 7}}
              sum: {bit: 32, bits: 8, checksum: {rule: crc8-autosar}}
          Slow: {id: 0x18FF0001, length: 8, every: 1073.741823 s, offset: 1073.741824 s, in: [quiet, awake, tired], fields: {n: {bit: 7, bits: 16, counter: {restart: entry, advance: slot}}}}
        """;

    [Fact]
    public void Days_of_simulated_time_prove_equal()
    {
        var days = Cases.Long ? LongDays : Days;
        var frames = new GeneratedProject([Module], [Stimulus(days)]).Load();
        using var folder = new TempFolder();
        var messages = Prover.Build(frames.Plan, "soak", "0", CCompiler.Find()!, folder.Path());
        Assert.True(messages is null, messages);
        var proof = Prover.Compare(frames.Plan, frames.Stimuli[0], folder.Path());
        Assert.True(proof.Equal, proof.Difference);
        log.WriteLine($"{days} days, {proof.Frames} frames");
        Assert.True(proof.Frames > days * 4_000);
    }

    private static string Stimulus(int days)
    {
        var text = new StringBuilder($"locum: 1\nstimulus: soak\nfor: {days * 24} h\nclock: 0xFFFFFFF0\ninputs:\n  key:\n");
        for (var hour = 1; hour < days * 24; hour += HoursBetweenEdges)
        {
            // A bounce that ends one microsecond too early, then the real edge, which comes and goes with every second pass.
            text.Append($"    - {{at: {hour * 3600L} s, level: active}}\n    - {{at: {(hour * 3_600_000_000L) + 899_999_999} us, level: inactive}}\n");
            text.Append($"    - {{at: {(hour * 3600L) + 1_000} s, level: active}}\n");
            if (hour / HoursBetweenEdges % 2 is 1)
                text.Append($"    - {{at: {(hour * 3600L) + 9_000} s, level: inactive}}\n");
        }
        return text.ToString();
    }
}
