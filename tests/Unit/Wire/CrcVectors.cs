using System.Globalization;
using System.Text.Json;
using Locum.Wire;

namespace Locum.Tests.Unit.Wire;

/// <summary>The rows of shared/vectors/crc.json; the file names the source of each group.</summary>
internal static class CrcVectors
{
    private static readonly JsonElement s_root =
        JsonDocument.Parse(File.ReadAllText(RepoRoot.Path("shared", "vectors", "crc.json"))).RootElement;

    public static byte[] CheckInput { get; } =
        Convert.FromHexString(s_root.GetProperty("checkInput").GetString()!.Replace(" ", "", StringComparison.Ordinal));

    public static IReadOnlyList<(CrcParameters Crc, ulong Check)> CheckValues { get; } =
        [.. Entries("checkValues").Select(entry => (Parameters(entry), Number(entry, "check")))];

    public static IReadOnlyList<(string Name, string Input, ulong Result)> Examples { get; } =
        [.. Entries("examples").Select(entry => (Text(entry, "name"), Text(entry, "input"), Number(entry, "result")))];

    private static IEnumerable<JsonElement> Entries(string property) => s_root.GetProperty(property)
        .EnumerateArray().SelectMany(group => group.GetProperty("entries").EnumerateArray());

    private static CrcParameters Parameters(JsonElement entry) => new(
        Text(entry, "name"), entry.GetProperty("width").GetInt32(), Number(entry, "poly"), Number(entry, "init"),
        entry.GetProperty("reflectIn").GetBoolean(), entry.GetProperty("reflectOut").GetBoolean(), Number(entry, "xorOut"));

    private static string Text(JsonElement entry, string property) => entry.GetProperty(property).GetString()!;

    private static ulong Number(JsonElement entry, string property) =>
        ulong.Parse(Text(entry, property), NumberStyles.HexNumber, CultureInfo.InvariantCulture);
}
