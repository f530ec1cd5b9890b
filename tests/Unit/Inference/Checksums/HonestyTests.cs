using Locum.Capture;
using Locum.Inference;
using Locum.Inference.Checksums;
using Locum.Wire;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Unit.Inference.Checksums;

/// <summary>What must not be called sure: frames without a checksum, too little data, data that imitate a checksum.</summary>
public sealed class HonestyTests(ITestOutputHelper log)
{
    private static readonly CanId s_id = new(0x2D1, false);

    [Theory]
    [InlineData(8, 300, 1000)]
    [InlineData(8, 12, 40)]
    [InlineData(5, 100, 1000)]
    [InlineData(24, 60, 20)]
    public void Random_payloads_have_no_checksum(int length, int frames, int seeds)
    {
        var found = Enumerable.Range(0, seeds).Select(seed => Best(Random(seed, length, frames))).ToList();
        Count(found, seeds, mostLikely: 0);
    }

    // Counters, copies, complements, drifting signals and timers side by side: what frames without a checksum are made of.
    [Fact]
    public void Structured_payloads_without_a_checksum_are_never_certain()
    {
        const int seeds = 1500;
        Count([.. Enumerable.Range(0, seeds).Select(seed => Best(StructuredFrames.Draw(seed)))], seeds, mostLikely: 2);
    }

    [Fact]
    public void Equal_payloads_tell_nothing()
    {
        var result = ChecksumSearch.Find(Sent.Of(s_id, Enumerable.Repeat(new byte[] { 1, 2, 3, 4 }, 100)));
        Assert.Equal(NoChecksumReason.NeverChanges, result.Reason);
        Assert.Equal(NoChecksumReason.Empty, ChecksumSearch.Find(Sent.Of(s_id, [[], []])).Reason);
    }

    [Theory]
    [InlineData(2)]
    [InlineData(4)]
    [InlineData(10)]
    public void Few_payloads_are_possible_at_most(int frames)
    {
        string keys = $"id: 0x2D1, length: 8, fields: {{{Sent.Moving(8, [7], 1)}, guard: {{bit: 56, bits: 8, checksum: {{rule: crc8-sae-j1850}}}}}}";
        var result = ChecksumSearch.Find(Sent.Frame(keys, frames).Series);
        Assert.All(result.Findings, f => Assert.Equal(Confidence.Possible, f.Confidence));
    }

    // A standing vehicle: nothing changes but the counter.
    [Theory]
    [InlineData("crc8-sae-j1850", 15)]
    [InlineData("crc8-sae-j1850", 255)]
    [InlineData("sum", 15)]
    [InlineData("sum-twos", 255)]
    [InlineData("xor", 255)]
    [InlineData("crc8-autosar", 3)]
    public void A_checksum_over_nothing_but_a_counter_is_possible_at_most(string rule, int last)
    {
        int bits = last > 15 ? 8 : 4;
        var sent = Sent.Frame($"id: 0x2D1, length: 8, base: 11 22 33 44 55 00 77 00, fields: {{alive: {{bit: 40, bits: {bits}, counter: {{to: {last}}}}}, guard: {{bit: 56, bits: 8, checksum: {{rule: {rule}}}}}}}", 600);
        var result = ChecksumSearch.Find(sent.Series);
        Assert.All(result.Findings, f => Assert.Equal(Confidence.Possible, f.Confidence));
        Assert.True(result.Findings.Count > 0 || result.Reason is NoChecksumReason.TooFewPayloads);
    }

    [Theory]
    [InlineData("counter: {to: 255}", "counter: {to: 255, start: 17}", 8)] // the same pace
    [InlineData("counter: {to: 255}", "counter: {from: 255, to: 0}", 8)] // one up, one down
    [InlineData("counter: {to: 15}", "counter: {to: 15, start: 3}", 4)]
    [InlineData("counter: {to: 255}", "counter: {to: 255, step: 3}", 8)]
    public void Two_counters_that_move_together_are_possible_at_most(string one, string two, int bits)
    {
        string keys = $"id: 0x2D1, length: 8, fields: {{a: {{bit: 0, bits: {bits}, {one}}}, s: {{bit: 16, bits: 16, noise: {{around: 9000, span: 4000, seed: 3}}}}, b: {{bit: 56, bits: {bits}, {two}}}}}";
        Assert.All(ChecksumSearch.Find(Sent.Frame(keys, 1000).Series).Findings, f => Assert.Equal(Confidence.Possible, f.Confidence));
    }

    // Redundant signals: the value and its complement, each sent twice.
    [Fact]
    public void Complements_and_copies_are_possible_at_most()
    {
        var random = new Random(5);
        var payloads = Enumerable.Range(0, 500).Select(_ =>
        {
            byte a = (byte)random.Next(256);
            byte b = (byte)random.Next(256);
            return new byte[] { a, (byte)~a, b, (byte)~b, a, 0, 0, b };
        });
        Assert.All(ChecksumSearch.Find(Sent.Of(s_id, payloads)).Findings, f => Assert.Equal(Confidence.Possible, f.Confidence));
    }

    // ISO 15765-2 segments: first frame, then consecutive frames 21, 22, ….
    [Fact]
    public void Segments_of_a_transport_protocol_are_possible_at_most()
    {
        var random = new Random(3);
        var payloads = new List<byte[]>();
        for (int message = 0; message < 40; message++)
        {
            payloads.Add([0x10, 0x64, 0x62, 0xF1, 0x90, 1, 2, 3]);
            for (int n = 1; n <= 15; n++)
            {
                var segment = new byte[8];
                random.NextBytes(segment);
                segment[0] = (byte)(0x20 | (n & 15));
                segment[7] = segment[1..7].Aggregate(segment[0], (x, b) => (byte)(x ^ b));
                payloads.Add(segment);
            }
        }

        var result = ChecksumSearch.Find(Sent.Of(s_id, payloads));
        Assert.All(result.Findings, f => Assert.Equal(Confidence.Possible, f.Confidence));
        Assert.Contains(result.Findings, f => f.Cautions.Any(c => c.Kind is CautionKind.Transport));
    }

    [Theory]
    [InlineData(1)]
    [InlineData(3)]
    public void Corrupted_frames_leave_a_rule_likely(int corrupted)
    {
        foreach (string rule in new[] { "crc8-sae-j1850", "sum", "xor", "crc8-autosar, with: [{secret: 01 02 03 04 05 06 07 08 09 0A 0B 0C 0D 0E 0F 10}]" })
        {
            var sent = Sent.Frame($"id: 0x2D1, length: 8, fields: {{{Sent.Moving(8, [7], 1)}, guard: {{bit: 56, bits: 8, checksum: {{rule: {rule}}}}}}}", 500);
            var payloads = sent.Payloads.Select(p => p.ToArray()).ToList();
            for (int i = 0; i < corrupted; i++)
                payloads[(i * 131) + 40][i + 2] ^= 0x41;
            var finding = Assert.Single(ChecksumSearch.Find(Sent.Of(s_id, payloads)).Chosen);
            Assert.Equal(Confidence.Likely, finding.Confidence);
            Assert.Equal(corrupted, finding.Evidence.Contradictions);
            Assert.All(sent.Payloads, p => Assert.True(finding.Check(p)));
        }
    }

    [Fact]
    public void Frames_of_an_odd_length_do_not_disturb()
    {
        var sent = Sent.Frame($"id: 0x2D1, length: 8, fields: {{{Sent.Moving(8, [7], 1)}, guard: {{bit: 56, bits: 8, checksum: {{rule: crc8-smbus}}}}}}");
        var payloads = sent.Payloads.Select((p, i) => i % 100 is 50 ? p[..5] : p);
        var finding = Assert.Single(ChecksumSearch.Find(Sent.Of(s_id, payloads)).Chosen);
        Assert.Equal((Confidence.Certain, 8), (finding.Confidence, finding.Length));
        Assert.False(finding.Check(sent.Payloads[0].AsSpan(0, 5)));
    }

    // Two lengths tell the start value from the final value, which one length cannot.
    [Fact]
    public void Two_lengths_tell_start_and_final_value_apart()
    {
        const string rule = "{crc: 8, poly: 0x85, init: 0x3C, xor out: 0x0F}";
        string Keys(int length) => $"id: 0x2D1, length: {length}, fields: {{{Sent.Moving(length, [0], 1)}, guard: {{bit: 0, bits: 8, checksum: {{rule: {rule}}}}}}}";
        var both = Sent.Frame(Keys(8)).Payloads.Concat(Sent.Frame(Keys(6)).Payloads);
        var result = ChecksumSearch.Find(Sent.Of(s_id, both));
        Assert.Equal([6, 8], result.Chosen.Select(f => f.Length).Order());
        Assert.All(result.Chosen, f => Assert.Contains("{crc: 8, poly: 0x85, init: 0x3C, xor out: 0x0F}", f.FieldText(), StringComparison.Ordinal));
        Assert.Contains(ChecksumSearch.Find(Sent.Frame(Keys(8)).Series).Chosen[0].Cautions, c => c.Kind is CautionKind.SolvedConstant);
    }

    [Fact]
    public void Pages_in_turn_are_searched_as_one_frame()
    {
        string pages = string.Join(", ", Enumerable.Range(0, 4).Select(p => $"{{base: 0{p} {17 * p:X2} {29 * p:X2} {5 * p:X2} 00 00 00 00}}"));
        string keys = $"id: 0x2D1, length: 8, pages: [{pages}], fields: {{alive: {{bit: 48, bits: 4, counter: {{to: 14}}}}, t: {{bit: 40, bits: 8, noise: {{around: 40, span: 3, seed: 2}}}}, guard: {{bit: 56, bits: 8, checksum: {{rule: crc8-sae-j1850}}}}}}";
        var finding = Assert.Single(ChecksumSearch.Find(Sent.Frame(keys, 600).Series).Chosen);
        Assert.Equal(Confidence.Certain, finding.Confidence);
        Assert.Contains("rule: crc8-sae-j1850, over: 0..6", finding.FieldText(), StringComparison.Ordinal);
    }

    // A byte that a keyed cipher makes looks like a checksum, and no rule explains it.
    [Fact]
    public void A_byte_that_only_looks_like_a_checksum_is_named_as_suspect()
    {
        var random = new Random(8);
        var table = Enumerable.Range(0, 65536).Select(_ => (byte)random.Next(256)).ToArray();
        var payloads = Enumerable.Range(0, 2000).Select(i =>
        {
            int state = (i % 15) | ((i / 400) << 8);
            return new byte[] { (byte)(state & 15), 7, (byte)(state >> 8), 0, 0, 0, 0, table[((state * 40503) ^ (state << 7)) & 0xFFFF] };
        });
        var result = ChecksumSearch.Find(Sent.Of(s_id, payloads));
        Assert.Empty(result.Findings);
        Assert.Equal(NoChecksumReason.NoRuleFits, result.Reason);
        Assert.Equal([new ChecksumPlace(56, 8)], result.Suspects);
    }

    [Fact]
    public void Results_do_not_depend_on_what_finishes_first()
    {
        var series = Enumerable.Range(0, 24).Select(StructuredFrames.Draw).ToList();
        string Text(SearchLimits limits) => string.Join('\n', ChecksumSearch.FindAll(series, limits).Select(r => $"{r.Reason} {string.Join("; ", r.Findings.Select(f => f.FieldText()))}"));
        Assert.Equal(Text(new SearchLimits { Parallel = 1 }), Text(new SearchLimits { Parallel = 4 }));
    }

    private static ChecksumFinding? Best(FrameSeries series) => ChecksumSearch.Find(series).Findings is [var best, ..] ? best : null;

    private static FrameSeries Random(int seed, int length, int frames)
    {
        var random = new Random(seed);
        return Sent.Of(s_id, Enumerable.Range(0, frames).Select(_ =>
        {
            var payload = new byte[length];
            random.NextBytes(payload);
            return payload;
        }));
    }

    private void Count(IReadOnlyList<ChecksumFinding?> found, int seeds, int mostLikely)
    {
        var likely = found.Where(f => f?.Confidence is Confidence.Likely).ToList();
        log.WriteLine($"of {seeds}: {found.Count(f => f?.Confidence is Confidence.Certain)} certain, {likely.Count} likely, {found.Count(f => f?.Confidence is Confidence.Possible)} possible");
        Assert.DoesNotContain(found, f => f?.Confidence is Confidence.Certain);
        Assert.True(likely.Count <= mostLikely, string.Join('\n', likely.Select(f => f!.FieldText())));
    }
}
