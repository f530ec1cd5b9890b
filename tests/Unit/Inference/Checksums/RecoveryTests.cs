using Locum.Binding;
using Locum.Inference;
using Locum.Inference.Checksums;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Inference.Checksums;

/// <summary>
/// Every rule that a description can name is found again in synthetic frames, and what is found, written back into the
/// description, sends the same bytes. Frames behind those that were searched are the hold-out set.
/// </summary>
public sealed class RecoveryTests
{
    private const int Seen = 200;

    public static TheoryData<string> Crcs => [.. CrcCatalogue.Entries.Select(e => e.Parameters.Name)];

    public static TheoryData<string> PlainRules => [.. ChecksumRuleBinder.AllNames.Where(n => CrcCatalogue.Find(n) is null && n is not "j1939-71")];

    // Catalogue: the published catalogue of parametrised CRC algorithms, as in generator/Wire/CrcEntries.cs.
    [Theory]
    [MemberData(nameof(Crcs))]
    public void Every_crc_of_the_catalogue_is_found_by_its_name(string name)
    {
        const int length = 16;
        var crc = CrcCatalogue.Find(name)!;
        int bytes = crc.Width / 8;
        bool big = crc.Width is 16 or 64;
        string place = $"bit: {(big ? length - 1 : length - bytes) * 8}, bits: {crc.Width}{(big ? ", order: big" : "")}";
        string Keys(string field) => $"id: 0x2D1, format: fd, length: {length}, fields: {{{Sent.Moving(length, Enumerable.Range(length - bytes, bytes), 2)}, guard: {field}}}";
        var sent = Sent.Frame(Keys($"{{{place}, checksum: {{rule: {name}}}}}"));

        var finding = sent.Find(Seen);

        Assert.Equal(Confidence.Certain, finding.Confidence);
        var found = Assert.IsType<FoundCrc>(finding.Statement.Rule);
        Assert.True(found.Named);
        Assert.Equal(crc with { Name = "" }, found.Parameters with { Name = "" });
        Assert.Equal((0, 0), (finding.Statement.Before.Count, finding.Statement.With.Count));
        Assert.Equal(sent.Payloads, Sent.Frame(Keys(finding.FieldText())).Payloads);
    }

    [Theory]
    [MemberData(nameof(PlainRules))]
    public void Every_sum_and_xor_is_found_by_its_name(string name)
    {
        int bits = name.StartsWith("nibble", StringComparison.Ordinal) ? 4 : 8;
        var finding = FindsAgain($"{{bit: 56, bits: {bits}, checksum: {{rule: {name}}}}}", 8, Confidence.Certain);
        Assert.Contains($"{{rule: {name},", finding.FieldText(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: sum, with: [id high byte, id low byte, length]}}")]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: sum-ones, with: [id low byte]}}")]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: {sum: bytes, start: 0x5A, complement: twos}}}")]
    [InlineData("{bit: 56, bits: 16, order: big, checksum: {rule: sum}}")]
    [InlineData("{bit: 48, bits: 16, checksum: {rule: {sum: bytes, start: 0x1234, complement: ones}}}")]
    [InlineData("{bit: 56, bits: 4, checksum: {rule: {sum: nibbles, start: 5}}}")]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: xor, with: [id low byte]}}")]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: {xor: bytes, start: 0x5A}}}")]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: {formula: \"(sum(0, 6) + 254) % 255 + 1\"}}}")]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: {formula: \"255 - ((sum(0, 6) + 17 + 254) % 255 + 1)\"}}}")]
    [InlineData("{bit: 24, bits: 8, checksum: {rule: crc8-sae-j1850}}")]
    [InlineData("{bit: 24, bits: 8, checksum: {rule: crc8-sae-j1850, over: 0..7, own bits: zero}}")]
    [InlineData("{bit: 24, bits: 8, checksum: {rule: crc8-sae-j1850, over: 0..2}}")]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: crc8-sae-j1850, over: 2..5}}")]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: crc8-sae-j1850, with: [id low byte]}}")]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: crc8-autosar, with: [0x5C]}}")]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: crc8-autosar, with: [id low byte, id high byte]}}")]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: crc8-smbus, before: [id high byte, id low byte]}}")]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: crc8-smbus, before: [0x17, 0x2A]}}")]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: {crc: 8, poly: 0x85, init: 0x3C, reflect in: yes, reflect out: no, xor out: 0x0F}}}")]
    [InlineData("{bit: 48, bits: 16, checksum: {rule: {crc: 16, poly: 0x755B, init: 0x1111, reflect in: no, reflect out: yes, xor out: 0x0F0F}}}")]
    [InlineData("{bit: 8, bits: 16, order: big, checksum: {rule: crc16-ibm-3740, with: [id low byte, id high byte]}}")]
    [InlineData("{bit: 0, bits: 16, checksum: {rule: crc16-xmodem, with: [0x12, 0x34]}}")]
    public void Ranges_extra_bytes_and_free_parameters_are_found(string field) => FindsAgain(field, 8, Confidence.Certain);

    [Theory]
    [InlineData("{bit: 0, bits: 8, checksum: {rule: crc8-sae-j1850}}", 12)]
    [InlineData("{bit: 248, bits: 8, checksum: {rule: sum-twos}}", 32)]
    [InlineData("{bit: 0, bits: 16, checksum: {rule: crc16-ibm-3740, with: [id low byte, id high byte]}}", 24)]
    [InlineData("{bit: 504, bits: 16, order: big, checksum: {rule: crc16-arc}}", 64)]
    [InlineData("{bit: 0, bits: 32, checksum: {rule: crc32-iso-hdlc}}", 64)]
    [InlineData("{bit: 16, bits: 8, checksum: {rule: crc8-maxim-dow}}", 4)]
    [InlineData("{bit: 24, bits: 8, checksum: {rule: {sum: bytes, start: 0xA0}}}", 4)]
    public void Short_and_long_payloads_are_searched(string field, int length) => FindsAgain(field, length, Confidence.Certain);

    // Changing bits that make no difference leave a sum likely only: over a part, or modulo 16.
    [Theory]
    [InlineData("{bit: 56, bits: 8, checksum: {rule: sum, over: 0..4}}")]
    [InlineData("{bit: 60, bits: 4, checksum: {rule: {sum: bytes, start: 5}}}")]
    public void A_sum_over_a_part_of_the_payload_is_likely_at_most(string field)
    {
        var finding = FindsAgain(field, 8, Confidence.Likely);
        Assert.Equal(Confidence.Likely, finding.Confidence);
        Assert.Contains(finding.Cautions, c => c.Kind is CautionKind.PartlyCovered);
    }

    // A sum that adds up to a constant is the same relation from every byte; noise everywhere leaves its place open.
    [Fact]
    public void A_relation_that_may_be_read_from_several_places_is_likely_at_most()
    {
        const string field = "{bit: 0, bits: 8, checksum: {rule: {sum: bytes, start: 0x5A, complement: twos}}}";
        var finding = Sent.Frame($"id: 0x2D1, length: 8, fields: {{{Sent.Moving(8, [0], 1)}, guard: {field}}}").Find(Seen);
        Assert.Equal(Confidence.Likely, finding.Confidence);
        Assert.Equal(CautionKind.OtherRulesFit, finding.Cautions[0].Kind);
        Assert.Contains("{bit: 0, bits: 8, checksum: {rule: {sum: bytes, start: 0x5A, complement: twos}, over: 1..7}}", finding.Equivalents.Append(finding.FieldText()));
    }

    [Theory]
    [InlineData("with", "crc8-autosar")]
    [InlineData("with", "crc8-sae-j1850")]
    [InlineData("before", "crc8-smbus")]
    [InlineData("before", "crc8-sae-j1850")]
    [InlineData("with", "{crc: 8, poly: 0xE7, init: 0x12, xor out: 0x34}")]
    public void A_secret_byte_for_each_counter_value_is_found(string key, string rule)
    {
        const string secret = "3A 91 0C 5E 77 00 FF 12 13 14 C5 C6 D7 E8 F9 0A";
        string Keys(string field) => $"id: 0x2D1, length: 8, fields: {{{Sent.Moving(8, [7], 3)}, guard: {field}}}";
        var sent = Sent.Frame(Keys($"{{bit: 56, bits: 8, checksum: {{rule: {rule}, {key}: [{{secret: {secret}, by: alive}}]}}}}"), 500);

        var finding = sent.Find(400);

        Assert.Equal(Confidence.Certain, finding.Confidence);
        Assert.Equal(new ChecksumPlace(24, 4), finding.Counter);
        if (rule.StartsWith("crc8", StringComparison.Ordinal))
            Assert.Contains($"rule: {rule}, over: 0..6, {key}: [{{secret: {secret}, by: alive}}]", finding.FieldText("alive"), StringComparison.Ordinal);
        Assert.Equal(sent.Payloads, Sent.Frame(Keys(finding.FieldText("alive")), 500).Payloads);
    }

    // The rule is from memory, as the description language says of it.
    [Theory]
    [InlineData(60, 56)]
    [InlineData(56, 60)]
    public void The_j1939_message_checksum_is_found(int check, int count)
    {
        string fields = string.Join(", ", Enumerable.Range(0, 7).Select(b => $"s{b}: {{bit: {8 * b}, bits: 8, noise: {{around: 90, span: 60, seed: {b + 1}}}}}"));
        string keys = $"id: 0x0C00000B, length: 8, fields: {{{fields}, alive: {{bit: {count}, bits: 4, counter: {{to: 7}}}}, guard: {{bit: {check}, bits: 4, checksum: {{rule: j1939-71}}}}}}";
        var finding = Sent.Frame(keys).Find(Seen);
        Assert.Equal(Confidence.Certain, finding.Confidence);
        Assert.Equal($"{{bit: {check}, bits: 4, checksum: {{rule: j1939-71}}}}", finding.FieldText());
    }

    private static ChecksumFinding FindsAgain(string field, int length, Confidence least)
    {
        var (place, bytes) = Place(field);
        int counter = Enumerable.Range(0, length).Except(bytes).Skip(1).First();
        string Keys(string guard) => $"id: 0x2D1, format: {(length > 8 ? "fd" : "classic")}, length: {length}, fields: {{{Sent.Moving(length, bytes, counter)}, guard: {guard}}}";
        var sent = Sent.Frame(Keys(field));
        var finding = sent.Find(Seen);
        Assert.Equal(place, finding.Statement.Place);
        Assert.True(finding.Confidence >= least, $"{finding.Confidence}: {finding.FieldText()} {string.Join("; ", finding.Cautions)}");
        Assert.Equal(sent.Payloads, Sent.Frame(Keys(finding.FieldText())).Payloads);
        return finding;
    }

    private static (ChecksumPlace Place, IReadOnlyList<int> Bytes) Place(string field)
    {
        string[] words = field.Split(' ', ',', '{', '}', ':');
        int bit = int.Parse(words.SkipWhile(w => w is not "bit").Skip(2).First());
        int bits = int.Parse(words.SkipWhile(w => w is not "bits").Skip(2).First());
        var place = new ChecksumPlace(bit, bits, field.Contains("order: big", StringComparison.Ordinal));
        return (place, [.. Enumerable.Range(place.FirstByte, place.ByteCount)]);
    }
}
