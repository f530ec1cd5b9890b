using System.Globalization;
using System.Text;
using Locum.Proving;
using Locum.Simulation;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>
/// A tester's frames and what the module must answer, on a bus of 1 Mbit/s; holds for the simulator and for the
/// compiled program alike. Requests come on 0x7E0 and 0x7DF, answers on 0x7E8 (ISO 15765-4, from memory).
/// </summary>
/// <param name="Settings">Keys of the channel besides its identifiers, behind each other with ';'.</param>
/// <param name="Tester">Lines of "ms identifier data", the identifier as in 7E0.</param>
/// <param name="Module">
/// Lines of "when data": "*" for any time, "after N" for N µs from the end of the last frame of the tester to the
/// acceptance, "then N" for the same from the end of the module's own frame before.
/// </param>
internal sealed record Exchange(string Settings, string Tester, string Module)
{
    private const string Usual =
        "{0xF190: {text: DEPOT0000000LOCO1}, 0xF187: {bytes: 01 02 03 04}, 0x0102: {text: \"ABCDEFGHIJKLMNOPQRSTUVWXYZABCDEFGHIJKLMNOPQRSTUVWXYZABCDEFGHIJKLMNOPQRSTUVWXYZABCDEFGHIJKLMNOPQRSTUVWXYZABCDEFGHIJKLMNOPQR\"}}";

    /// <summary>What can be read, as a flow mapping.</summary>
    public string Identifiers { get; init; } = Usual;

    /// <summary>The bus has a data rate of 2 Mbit/s, channel and tester send CAN FD frames.</summary>
    public bool Fd { get; init; }

    /// <summary>How many releases were dropped.</summary>
    public int Dropped { get; init; }

    /// <summary>Frames of other nodes, each in braces, behind each other with ';'.</summary>
    public string Around { get; init; } = "";

    /// <summary>The module's modes.</summary>
    public string Modes { get; init; } = "";

    /// <summary>The module's other frames.</summary>
    public string Frames { get; init; } = "Never: {id: 0x7FF, length: 0, every: 1000 s, offset: 1000 s}";

    /// <summary>The board's guards, as a flow mapping.</summary>
    public string Guards { get; init; } = "";

    /// <summary>More of the stimulus: a line.</summary>
    public string More { get; init; } = "";

    /// <summary>How long, ms.</summary>
    public int For { get; init; } = 1_000;

    public void Holds()
    {
        var loaded = new GeneratedProject([Description()], [Stimulus()]) { Guards = Guards }.Load();
        using var folder = new TempFolder();
        QuickCompiler.Build(loaded.Plan, folder.Path());
        var simulated = Simulator.Run([loaded.Plan], loaded.Stimuli[0]);
        Check(simulated.Frames);
        var answer = loaded.Plan.Frames.Single(f => f.Frame.IsAnswer);
        Assert.Equal(Dropped, simulated.Skipped[0][answer.Row]);
        var proof = Prover.Compare(loaded.Plan, loaded.Stimuli[0], folder.Path());
        Assert.True(proof.Equal, proof.Difference);
    }

    private void Check(IReadOnlyList<SentFrame> frames)
    {
        var got = frames.Where(f => f.Sender is "m.t").ToList();
        var wanted = Lines(Module);
        Assert.Equal(wanted.Select(w => w[^1]), got.Select(f => Convert.ToHexString(f.Data)));
        for (var i = 0; i < got.Count; i++)
        {
            var since = wanted[i][0] switch
            {
                "then" => got[i].AcceptedUs - got[i - 1].EndUs,
                "after" => got[i].AcceptedUs - frames.Where(f => f.Sender is "" && f.EndUs <= got[i].AcceptedUs).Max(f => f.EndUs),
                _ => (long?)null,
            };
            if (since is { } us)
                Assert.Equal(wanted[i][1], $"{us}");
        }
    }

    private string Description() => $$"""
        locum: 1
        module: m
        hazard: none
        buses: {b: {rate: 1 Mbit/s{{(Fd ? ", data rate: 2 Mbit/s" : "")}}} }
        {{Modes}}
        frames: { {{Frames}} }
        diagnostics:
          t:
            request: 0x7E0
            functional: 0x7DF
            response: 0x7E8
            {{string.Join("\n    ", Settings.Split(';', StringSplitOptions.TrimEntries).Prepend(Fd && !Settings.Contains("format: ", StringComparison.Ordinal) ? "format: fd" : ""))}}
            identifiers: {{Identifiers}}
        """;

    private string Stimulus()
    {
        var text = new StringBuilder($"locum: 1\nstimulus: exchange\nfor: {For} ms\n{More}\ntraffic:\n  b:\n");
        foreach (var other in Around.Split(';', StringSplitOptions.RemoveEmptyEntries))
            text.Append(CultureInfo.InvariantCulture, $"    - {other}\n");
        foreach (var words in Lines(Tester))
        {
            var us = (long)(decimal.Parse(words[0], CultureInfo.InvariantCulture) * 1_000);
            text.Append(CultureInfo.InvariantCulture, $"    - {{id: 0x{words[1]}{(Fd ? ", format: fd" : "")}, at: {us} us, data: {string.Join(' ', words[2].Chunk(2).Select(p => new string(p)))}}}\n");
        }
        return text.ToString();
    }

    private static List<string[]> Lines(string text) =>
        [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(l => l.Split(' '))];
}
