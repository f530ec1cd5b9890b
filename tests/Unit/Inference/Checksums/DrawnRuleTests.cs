using CsCheck;
using Locum.Inference;
using Locum.Inference.Checksums;
using Locum.Tests.Properties;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Unit.Inference.Checksums;

/// <summary>
/// Drawn rules in drawn synthetic frames: whatever is called certain also holds for frames that the search did not see,
/// and sends the same bytes from a description. How often a rule is found is printed.
/// </summary>
public sealed class DrawnRuleTests(ITestOutputHelper log)
{
    private const int Seen = 200;
    private const int Draws = 150;

    [Fact]
    public void What_is_found_holds_for_frames_not_seen()
    {
        var counts = new int[3];
        int none = 0;
        for (int seed = 0; seed < Draws; seed++)
        {
            var dice = new Dice(new PCG(1, (ulong)seed));
            int length = dice.Chance(75) ? 8 : dice.Pick(4, 5, 6, 7, 12, 16);
            var (field, bytes) = Draw(dice, length);
            string moving = Motion(dice, length, bytes);
            string Keys(string guard) => $"id: 0x2D1, format: {(length > 8 ? "fd" : "classic")}, length: {length}, base: {Base(length)}, fields: {{{moving}guard: {guard}}}";
            var sent = Sent.Frame(Keys(field));
            if (ChecksumSearch.Find(Sent.Of(sent.Id, sent.Payloads.Take(Seen))).Chosen is not [var finding, ..])
            {
                none++;
                continue;
            }

            counts[(int)finding.Confidence]++;
            if (finding.Confidence is not Confidence.Certain)
                continue;
            Assert.All(sent.Payloads, p => Assert.True(finding.Check(p), $"{seed}: {field} taken for {finding.FieldText()}"));
            Assert.Equal(bytes[0], finding.Statement.Place.FirstByte);
            Assert.Equal(sent.Payloads, Sent.Frame(Keys(finding.FieldText("alive"))).Payloads);
        }

        log.WriteLine($"of {Draws}: {counts[2]} certain, {counts[1]} likely, {counts[0]} possible, {none} not found");
        Assert.True(counts[2] > Draws / 2);
    }

    private static (string Field, IReadOnlyList<int> Bytes) Draw(Dice dice, int length)
    {
        int width = dice.Pick(4, 8, 8, 8, 16);
        int bytes = (width + 7) / 8;
        int first = dice.Pick(0, length - bytes, length - bytes);
        bool big = width is 16 && dice.Chance(50);
        string place = $"bit: {((big ? first + 1 : first) * 8) + (width is 4 && dice.Chance(50) ? 4 : 0)}, bits: {width}{(big ? ", order: big" : "")}";
        string hex = $"0x{dice.Bits(width):X}";
        string rule = width is 4 ? $"{{{dice.Pick("sum", "xor")}: nibbles, start: {hex}}}"
            : dice.Chance(30) ? $"{{sum: bytes, start: {hex}, complement: {dice.Pick("none", "ones", "twos")}}}"
            : $"{{crc: {width}, poly: 0x{dice.Bits(width) | 1:X}, init: {hex}, reflect in: {dice.Pick("yes", "no")}, reflect out: {dice.Pick("yes", "no")}, xor out: 0x{dice.Bits(width):X}}}";
        string extra = dice.Chance(40) ? $", {dice.Pick("with", "before")}: [{dice.Pick("id low byte", "length", $"0x{dice.Bits(8):X2}")}]" : "";
        return ($"{{{place}, checksum: {{rule: {rule}{extra}}}}}", [.. Enumerable.Range(first, bytes)]);
    }

    // One to three moving bytes beside the counter; the rest stands still.
    private static string Motion(Dice dice, int length, IReadOnlyList<int> taken)
    {
        var free = Enumerable.Range(0, length).Except(taken).ToList();
        int counter = dice.Pick(free);
        string fields = $"alive: {{bit: {8 * counter}, bits: 4, counter: {{to: {dice.Pick(14, 15)}}}}}, ";
        foreach (int b in dice.Some([.. free.Where(f => f != counter)], 1).Take(dice.Between(1, 3)))
            fields += $"s{b}: {{bit: {8 * b}, bits: 8, noise: {{around: {dice.Between(60, 190)}, span: {dice.Between(2, 50)}, seed: {dice.Between(1, 999)}}}}}, ";
        return fields;
    }

    private static string Base(int length) => string.Join(' ', Enumerable.Range(0, length).Select(i => $"{(i * 41) + 7 & 0xFF:X2}"));
}
