using System.Globalization;
using System.Text.Json;

namespace Locum.Tests.Unit.Protection;

/// <summary>The rows of shared/vectors/e2e.json; the file names the source of each.</summary>
internal sealed record E2EVector(string Profile, IReadOnlyList<uint> Ids, uint Counter, int Offset, byte[] Base, byte[] Result)
{
    public static IReadOnlyList<E2EVector> All { get; } =
    [
        .. JsonDocument.Parse(File.ReadAllText(RepoRoot.Path("shared", "vectors", "e2e.json"))).RootElement
            .GetProperty("entries").EnumerateArray().Select(e => new E2EVector(
                e.GetProperty("profile").GetString()!,
                e.TryGetProperty("ids", out var list)
                    ? [.. list.GetString()!.Split(' ').Select(Hex)]
                    : [Hex(e.GetProperty("id").GetString()![2..])],
                e.GetProperty("counter").GetUInt32(),
                e.GetProperty("offset").GetInt32(),
                Convert.FromHexString(e.GetProperty("base").GetString()!),
                Convert.FromHexString(e.GetProperty("result").GetString()!))),
    ];

    /// <summary>The keys of a frame with this protection.</summary>
    public string Frame(string name, int id)
    {
        var ids = Ids.Count is 1 ? $"data id: 0x{Ids[0]:X}" : $"data ids: {string.Join(' ', Ids.Select(i => $"{i:X2}"))}";
        var payload = string.Join(' ', Base.Select(b => $"{b:X2}"));
        return $"  {name}: {{id: 0x{id:X3}, format: fd, length: {Base.Length}, every: 10 ms, base: {payload}, protect: {{profile: {Profile}, {ids}, offset: {Offset}, start: {Counter}}}}}\n";
    }

    private static uint Hex(string digits) => uint.Parse(digits, NumberStyles.AllowHexSpecifier, CultureInfo.InvariantCulture);
}
