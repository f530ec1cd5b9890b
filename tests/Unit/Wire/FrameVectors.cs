using System.Globalization;
using System.Text.Json;
using Locum.Wire;

namespace Locum.Tests.Unit.Wire;

/// <summary>The rows of shared/vectors/can-frames.json; the file names the source of each group.</summary>
internal static class FrameVectors
{
    private static readonly JsonElement s_root =
        JsonDocument.Parse(File.ReadAllText(RepoRoot.Path("shared", "vectors", "can-frames.json"))).RootElement;

    public static IReadOnlyList<FrameVector> Frames { get; } = [.. Entries("frames").Select(entry => new FrameVector(
        new CanId(Number(entry, "id"), entry.GetProperty("extended").GetBoolean()),
        Convert.FromHexString(entry.GetProperty("data").GetString()!),
        Number(entry, "crc15"),
        entry.GetProperty("stuffBits").GetInt32(),
        entry.GetProperty("bits").GetInt32(),
        entry.GetProperty("wire").GetString()!))];

    public static IReadOnlyList<LengthVector> Lengths { get; } = [.. Entries("lengths").Select(entry => new LengthVector(
        entry.GetProperty("length").GetInt32(),
        entry.GetProperty("standardMin").GetInt32(),
        entry.GetProperty("standardMax").GetInt32(),
        entry.GetProperty("extendedMin").GetInt32(),
        entry.GetProperty("extendedMax").GetInt32()))];

    private static JsonElement.ArrayEnumerator Entries(string group) =>
        s_root.GetProperty(group).GetProperty("entries").EnumerateArray();

    private static uint Number(JsonElement entry, string property) =>
        uint.Parse(entry.GetProperty(property).GetString()!, NumberStyles.HexNumber, CultureInfo.InvariantCulture);
}

internal sealed record FrameVector(CanId Id, byte[] Data, uint Crc15, int StuffBits, int Bits, string Wire);

internal sealed record LengthVector(int Length, int StandardMin, int StandardMax, int ExtendedMin, int ExtendedMax);
