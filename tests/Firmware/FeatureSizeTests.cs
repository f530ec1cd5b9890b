using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Firmware;

/// <summary>What a description does not use costs nothing: the core's size on the ATmega328P, feature by feature.</summary>
public sealed class FeatureSizeTests(ITestOutputHelper log)
{
    private const string Channels = "LOCUM_CHANNELS";

    // Of arrays; they cost RAM, not flash.
    private static readonly Dictionary<string, int> s_lengths = new() { ["LOCUM_MAX_LENGTH"] = 8, ["LOCUM_ANSWER_BYTES"] = 64 };

    private static readonly string[] s_features = ["LOCUM_LAPS", "LOCUM_RECEIVES", "LOCUM_EVENTS", "LOCUM_PERIODS", "LOCUM_BURSTS", "LOCUM_LIVE"];

    [Fact]
    public void Every_feature_costs_only_where_it_is_used()
    {
        var none = Size([]);
        log.WriteLine($"core without any: {none} bytes");
        // 3368 bytes when this bound was set: scheduler, inputs, modes, counters, 32-bit division.
        Assert.InRange(none, 500, 3_600);
        foreach (var feature in s_features)
        {
            var with = Size([feature]);
            log.WriteLine($"{feature}: {with - none} bytes");
            Assert.InRange(with - none, 1, 1_600);
        }
        log.WriteLine($"all: {Size(s_features) - none} bytes");
    }

    // What channels need besides comes first: frames that are heard, and frames that are sent when asked for.
    [Fact]
    public void Channels_cost_only_what_they_use()
    {
        string[] before = ["LOCUM_RECEIVES", "LOCUM_EVENTS"];
        var without = Size(before);
        var channel = Size([.. before, Channels]);
        var slow = Size([.. before, Channels, "LOCUM_CHANNEL_SLOW"]);
        var fd = Size([.. before, Channels, "LOCUM_CHANNEL_FD"]);
        log.WriteLine($"answering testers: {channel - without} bytes; answers that take time: {slow - channel} bytes; CAN FD: {fd - channel} bytes");
        Assert.InRange(channel - without, 1_000, 4_200);
        Assert.InRange(slow - channel, 1, 600);
        Assert.InRange(fd - channel, 1, 600);
        Assert.Equal(without, Size([.. before, "LOCUM_CHANNEL_SLOW", "LOCUM_CHANNEL_FD"]));
    }

    // A node needs reception and events; transfers come on top.
    [Fact]
    public void Nodes_cost_only_where_they_are_used()
    {
        string[] needed = ["LOCUM_RECEIVES", "LOCUM_EVENTS"];
        string[] node = [.. needed, "LOCUM_NODES", "LOCUM_NODE_ANSWERS"];
        Assert.Equal(0, Size(needed, "locum_j1939.c"));
        var (core, own) = (Size(node) - Size(needed), Size(node, "locum_j1939.c"));
        var transfers = Size([.. node, "LOCUM_NODE_TRANSFERS"], "locum_j1939.c") - own;
        log.WriteLine($"node: {own} bytes, {core} more in the core; transfers: {transfers} bytes");
        Assert.InRange(own, 600, 1_700);
        Assert.InRange(core, 300, 1_300);
        Assert.InRange(transfers, 600, 1_500);
    }

    private static int Size(IReadOnlyCollection<string> used) => Size(used, "locum_core.c", "locum_isotp.c", "locum_uds.c");

    private static int Size(IReadOnlyCollection<string> used, params string[] files)
    {
        using var folder = new TempFolder();
        // Every macro that a generated configuration defines, so that a new one cannot be forgotten here.
        var macros = File.ReadLines(RepoRoot.Path("templates", "project", "locum_config.h.scriban"))
            .Where(l => l.StartsWith("#define LOCUM_", StringComparison.Ordinal) && !l.Contains("CONFIG_H", StringComparison.Ordinal))
            .Select(l => l.Split(' ')[1]).ToList();
        Assert.All(s_features, f => Assert.Contains(f, macros));
        File.WriteAllLines(folder.Path("locum_config.h"),
            ["#include <stdbool.h>", .. macros.Select(m => $"#define {m} {(s_lengths.TryGetValue(m, out var length) ? length : used.Contains(m) || (m is "LOCUM_TRIGGERS" && used.Contains("LOCUM_EVENTS")) ? 1 : 0)}u")]);
        return files.Sum(file =>
        {
            var compiled = folder.Path($"{file}.o");
            Shell.Must("avr-gcc", ["-std=c99", "-mmcu=atmega328p", "-Os", "-ffunction-sections", "-I", folder.Path(), "-c", RepoRoot.Path("shared", "core", file), "-o", compiled]);
            var columns = Shell.Must("avr-size", [compiled]).Split('\n')[1].Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
            return int.Parse(columns[0]);
        });
    }
}
