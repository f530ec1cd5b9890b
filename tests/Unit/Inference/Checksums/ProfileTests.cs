using Locum.Inference;
using Locum.Inference.Checksums;
using Locum.Protection;
using Locum.Tests.Unit.Protection;
using Xunit;

namespace Locum.Tests.Unit.Inference.Checksums;

/// <summary>
/// End-to-end profiles in synthetic frames, with the data IDs of the published examples (shared/vectors/e2e.json names
/// their sources).
/// </summary>
public sealed class ProfileTests
{
    private const int Seen = 400;
    private const int Sends = 600;

    public static TheoryData<string, string, int> Cases
    {
        get
        {
            var cases = new TheoryData<string, string, int>();
            foreach (var vector in E2EVector.All.DistinctBy(v => (v.Profile, string.Join(' ', v.Ids), v.Offset)))
                cases.Add(vector.Profile, Ids(vector.Ids), vector.Offset);
            return cases;
        }
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Every_profile_is_found_and_sends_the_same_bytes(string name, string ids, int offset)
    {
        var profile = E2EProfile.Find(name)!;
        int length = profile.Header > 10 ? 32 : offset > 0 ? 16 : 8;
        string user = string.Join(", ", Enumerable.Range(0, length).Where(b => b < offset || b >= offset + profile.Header)
            .Select(b => $"s{b}: {{bit: {8 * b}, bits: 8, noise: {{around: 90, span: {(b % 4 * 20) + 3}, seed: {b + 1}}}}}"));
        string Keys(string protect) => $"id: 0x100, format: fd, length: {length}, fields: {{{user}}}, {protect}";
        string original = $"protect: {{profile: {name}, {ids}{(offset is 0 ? "" : $", offset: {offset}")}}}";
        var sent = Sent.Frame(Keys(original), Sends);

        var finding = sent.Find(Seen);

        Assert.Equal(Confidence.Certain, finding.Confidence);
        Assert.NotNull(finding.Protect);
        Assert.Equal(offset, finding.Protect.Offset);
        Assert.Equal(finding.Protect.Counter, finding.Counter);
        string start = $", start: {profile.FirstCounter}}}";
        Assert.Equal(sent.Payloads, Sent.Frame(Keys(finding.ProtectText![..^1] + start), Sends).Payloads);
        // 11 and 22 put the same bytes as 1 and 2; the high byte of 1A's data ID, and all of it but a byte with "1 low", is open.
        string expected = original.Replace("profile: 11", "profile: 1", StringComparison.Ordinal).Replace("profile: 22", "profile: 2", StringComparison.Ordinal);
        if (profile.Kind is E2EKind.BothBytes)
            Assert.Contains(finding.Cautions, c => c.Kind is CautionKind.DataIdOpen);
        else
            Assert.Contains(expected.Replace("1 low, data id: 0x123", "1 low, data id: 0x23", StringComparison.Ordinal), finding.Equivalents.Append(finding.ProtectText));
    }

    // A data ID that equals the identifier is the customary choice, so it is the one named.
    [Fact]
    public void The_identifier_is_preferred_as_an_open_data_id()
    {
        string user = string.Join(", ", Enumerable.Range(2, 6).Select(b => $"s{b}: {{bit: {8 * b}, bits: 8, noise: {{around: 90, span: 33, seed: {b}}}}}"));
        var finding = Sent.Frame($"id: 0x2D1, length: 8, fields: {{{user}}}, protect: {{profile: 1A, data id: 0x2D1}}").Find(Seen);
        Assert.Equal("protect: {profile: 1A, data id: 0x2D1}", finding.ProtectText);
    }

    // A counter that uses 15 is none of profile 1.
    [Fact]
    public void A_counter_up_to_15_is_not_taken_for_profile_1()
    {
        var finding = Sent.Frame($"id: 0x2D1, length: 8, fields: {{{Sent.Moving(8, [0], 1)}, guard: {{bit: 0, bits: 8, checksum: {{rule: crc8-gsm-a, before: [0x23, 0x01]}}}}}}").Find(200);
        Assert.Null(finding.Protect);
    }

    private static string Ids(IReadOnlyList<uint> ids) =>
        ids.Count is 1 ? $"data id: 0x{ids[0]:X}" : $"data ids: {string.Join(' ', ids.Select(i => $"{i:X2}"))}";
}
