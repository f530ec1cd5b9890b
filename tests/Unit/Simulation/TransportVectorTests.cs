using System.Text.Json;
using Xunit;

namespace Locum.Tests.Unit.Simulation;

/// <summary>Simulator and program against shared/vectors/transport.json, which names the source of each row.</summary>
public sealed class TransportVectorTests
{
    private static readonly JsonElement s_vectors = JsonDocument.Parse(File.ReadAllText(RepoRoot.Path("shared", "vectors", "transport.json"))).RootElement;

    public static TheoryData<string> Names => [.. s_vectors.GetProperty("exchanges").EnumerateArray().Select(e => e.GetProperty("name").GetString()!)];

    [Theory]
    [MemberData(nameof(Names))]
    public void An_exchange_is_as_written(string name)
    {
        var row = s_vectors.GetProperty("exchanges").EnumerateArray().Single(e => e.GetProperty("name").GetString() == name);
        Assert.True(s_vectors.GetProperty("sources").TryGetProperty(row.GetProperty("source").GetString()!, out _));
        new Exchange(row.TryGetProperty("settings", out var settings) ? settings.GetString()! : "", Lines("tester"), Lines("module"))
        {
            Fd = row.TryGetProperty("fd", out var fd) && fd.GetBoolean(),
            For = row.TryGetProperty("for", out var ms) ? ms.GetInt32() : 1_000,
        }.Holds();

        string Lines(string key) => string.Join('\n', row.GetProperty(key).EnumerateArray().Select(l => l.GetString()));
    }

    // A request and a flow control for each of the 256 codes; the separation lies between the two consecutive frames.
    [Fact]
    public void Every_code_of_a_separation_is_kept_to()
    {
        var (tester, module) = (new List<string>(), new List<string>());
        foreach (var range in s_vectors.GetProperty("separations").GetProperty("ranges").EnumerateArray())
        {
            var from = Convert.ToInt32(range.GetProperty("from").GetString(), 16);
            for (var code = from; code <= Convert.ToInt32(range.GetProperty("to").GetString(), 16); code++)
            {
                var us = range.GetProperty("us").GetInt32() + ((code - from) * range.GetProperty("step").GetInt32());
                tester.AddRange([$"{tester.Count * 100} 7E0 0322F190", $"{(tester.Count * 100) + 20} 7E0 3000{code:X2}"]);
                module.AddRange(["after 0 101462F190444550", "after 0 214F543030303030", $"then {us} 2230304C4F434F31"]);
            }
        }
        Assert.Equal(512, tester.Count);
        new Exchange("", string.Join('\n', tester), string.Join('\n', module)) { For = 52_000 }.Holds();
    }

    // Identifiers of such lengths that answers use so many bytes of their frame.
    [Fact]
    public void Frames_are_filled_up_to_lengths_that_exist()
    {
        var (identifiers, tester, module) = (new List<string>(), new List<string>(), new List<string>());
        foreach (var row in s_vectors.GetProperty("fills").GetProperty("entries").EnumerateArray())
        {
            var (used, length) = (row[0].GetInt32(), row[1].GetInt32());
            var bytes = used - (used > 8 ? 5 : 4);
            identifiers.Add($"{bytes + 0x100}: {{bytes: {string.Join(' ', Enumerable.Repeat("EE", bytes))}}}");
            tester.Add($"{10 * (tester.Count + 1)} 7E0 0322{bytes + 0x100:X4}");
            module.Add($"after 0 {(used > 8 ? $"00{used - 2:X2}" : $"{used - 1:X2}")}62{bytes + 0x100:X4}{string.Concat(Enumerable.Repeat("EE", bytes))}{string.Concat(Enumerable.Repeat("CC", length - used))}");
        }
        (new Exchange("", string.Join('\n', tester), string.Join('\n', module)) { Fd = true } with { Identifiers = $"{{{string.Join(", ", identifiers)}}}" }).Holds();
    }
}
