using System.Globalization;
using System.Text;
using Locum.Proving;
using Locum.Simulation;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>
/// Others on a bus of 1 Mbit/s and what a module with one node of SAE J1939 must send; holds for the simulator and for
/// the compiled program alike.
/// </summary>
/// <param name="Others">Lines of "ms identifier data"; an underscore for no data.</param>
/// <param name="Module">
/// Lines of "when identifier data", all frames of the module: "*" for any time, "at N" for the acceptance in µs, "after N"
/// for N µs from the end of the last frame of others to it, "then N" for the same from the end of the module's own frame before.
/// </param>
internal sealed record Network(string Others, string Module)
{
    /// <summary>The NAME that most networks use, as sent, and the frame that claims address 0x17 with it.</summary>
    public const string Name = "4523612400000080";

    public const string Claim = "18EEFF17 " + Name;

    public string Address { get; init; } = "0x17";

    public string WithName { get; init; } = "{identity: 0x12345, manufacturer: 0x123, arbitrary address: yes}";

    /// <summary>More keys of the node, behind each other with ';'.</summary>
    public string Settings { get; init; } = "";

    public string Answers { get; init; } =
        "0xFEEB: {text: \"DEPOT*LIFT-2*000417*\"}, 0xFEDA: {bytes: 01 31 2A}, 0xFEDB: {bytes: 11 22 33 44 55 66 77 88}, 0xEF00: {bytes: 01 02}, 0x1EF00: {bytes: 01 02 03 04 05 06 07 08 09}";

    /// <summary>The module's frames.</summary>
    public string Frames { get; init; } = "Never: {id: 0x7FF, length: 0, every: 1000 s, offset: 1000 s}";

    /// <summary>More of the description: lines.</summary>
    public string Description { get; init; } = "";

    /// <summary>The board's guards, as a flow mapping.</summary>
    public string Guards { get; init; } = "";

    /// <summary>More of the stimulus: lines.</summary>
    public string More { get; init; } = "";

    /// <summary>Frames of others besides, each in braces, behind each other with ';'.</summary>
    public string Around { get; init; } = "";

    /// <summary>Skipped releases: "Frame count", one line for every frame that skipped any.</summary>
    public string Skipped { get; init; } = "";

    /// <summary>How long, ms.</summary>
    public int For { get; init; } = 1_000;

    public void Holds()
    {
        var loaded = new GeneratedProject([Text()], [Stimulus()]) { Guards = Guards }.Load();
        using var folder = new TempFolder();
        QuickCompiler.Build(loaded.Plan, folder.Path());
        var simulated = Simulator.Run([loaded.Plan], loaded.Stimuli[0]);
        Check(simulated.Frames);
        Assert.Equal(Lines(Skipped).Select(l => string.Join(' ', l)), loaded.Plan.Frames.Where(f => simulated.Skipped[0][f.Row] > 0).Select(f => $"{f.Frame.Name} {simulated.Skipped[0][f.Row]}"));
        var proof = Prover.Compare(loaded.Plan, loaded.Stimuli[0], folder.Path());
        Assert.True(proof.Equal, proof.Difference);
    }

    private void Check(IReadOnlyList<SentFrame> frames)
    {
        var got = frames.Where(f => f.Sender.Length > 0 && f.EndUs >= 0).ToList();
        var wanted = Lines(Module);
        Assert.Equal(wanted.Select(w => $"{w[^2]} {w[^1]}"), got.Select(f => $"{f.Id.ToString()[2..]} {Data(f.Data)}"));
        for (var i = 0; i < got.Count; i++)
        {
            var since = wanted[i][0] switch
            {
                "at" => got[i].AcceptedUs,
                "then" => got[i].AcceptedUs - got[i - 1].EndUs,
                "after" => got[i].AcceptedUs - frames.Where(f => f.Sender is "" && f.EndUs <= got[i].AcceptedUs).Max(f => f.EndUs),
                _ => (long?)null,
            };
            if (since is { } us)
                Assert.True(wanted[i][1] == $"{us}", $"frame {i + 1}, {got[i].Id}: {us} us, wanted {wanted[i][1]}");
        }
    }

    private string Text() => $$"""
        locum: 1
        module: m
        hazard: none
        buses: {b: {rate: 1 Mbit/s} }
        {{Description}}
        frames: { {{Frames}} }
        j1939:
          node:
            address: {{Address}}
            name: {{WithName}}
            answers: { {{Answers}} }
            {{string.Join("\n    ", Settings.Split(';', StringSplitOptions.TrimEntries))}}
        """;

    private string Stimulus()
    {
        var text = new StringBuilder($"locum: 1\nstimulus: network\nfor: {For} ms\n{More}\ntraffic:\n  b:\n    - {{id: 0, at: 999 s, data: \"\"}}\n");
        foreach (var other in Around.Split(';', StringSplitOptions.RemoveEmptyEntries))
            text.Append(CultureInfo.InvariantCulture, $"    - {other}\n");
        foreach (var words in Lines(Others))
        {
            var us = (long)(decimal.Parse(words[0], CultureInfo.InvariantCulture) * 1_000);
            var data = words[2] is "_" ? "\"\"" : string.Join(' ', words[2].Chunk(2).Select(p => new string(p)));
            text.Append(CultureInfo.InvariantCulture, $"    - {{id: 0x{words[1]}, at: {us} us, data: {data}}}\n");
        }
        return text.ToString();
    }

    private static string Data(byte[] data) => data.Length is 0 ? "_" : Convert.ToHexString(data);

    private static List<string[]> Lines(string text) =>
        [.. text.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries))];
}
