using System.Text;
using CsCheck;
using Locum.Capture;
using Locum.Tests.Golden;
using Xunit;

namespace Locum.Tests.Unit.Capture;

/// <summary>Whatever the bytes, nothing is thrown and nothing is lost without being counted.</summary>
public sealed class CaptureFuzzTests
{
    private static readonly byte[][] s_seeds =
        [.. Directory.EnumerateFiles(Corpus.Folder("captures")).Where(f => new FileInfo(f).Length is > 0 and < 8192 && !f.EndsWith(".expected.txt", StringComparison.Ordinal)).Order(StringComparer.Ordinal).Select(File.ReadAllBytes)];

    private static readonly Gen<byte[]> s_mutated =
        from seed in Gen.OneOf(s_seeds)
        from edits in Gen.Select(Gen.Int[0, 5], Gen.Int[0, seed.Length - 1], Gen.Byte, Gen.Int[1, 40]).Array[1, 6]
        select edits.Aggregate(seed, Edit);

    [Fact]
    public void Mutated_captures_are_accounted_for() => s_mutated.Sample(bytes => { Accounted(bytes); }, iter: 3000);

    [Fact]
    public void Random_bytes_are_accounted_for() => Gen.Byte.Array[0, 2000].Sample(bytes => { Accounted(bytes); }, iter: 1000);

    [Fact]
    public void Random_text_is_accounted_for() =>
        Gen.OneOf("0123456789ABCDEFabcdefxX.,;: \t\n\r()[]#\"-/|=RTd\0é".ToCharArray()).Array[0, 600]
            .Sample(text => { Accounted(Encoding.UTF8.GetBytes(text)); }, iter: 2000);

    [Fact]
    public void Random_blocks_behind_a_sound_start_are_accounted_for() => Gen.Select(Gen.Bool, Gen.Bool, Gen.Byte.Array[0, 400]).Sample(
        (ng, big, noise) =>
        {
            var start = ng
                ? new PcapBytes(big).Section().Interface().Packet(0, 1, PcapBytes.Can(1, [1]))
                : new PcapBytes(big).PcapHeader().PcapPacket(0, 1, PcapBytes.Can(1, [1]));
            var captured = Accounted(start.Raw(noise).ToArray());
            Assert.NotEmpty(captured.Entries);
        },
        iter: 2000);

    // The other lines lose nothing by one that is damaged.
    [Theory]
    [InlineData("clean.log")]
    [InlineData("clean.csv")]
    [InlineData("clean.jsonl")]
    [InlineData("two-buses.csv")]
    [InlineData("short-rows.csv")]
    [InlineData("blanks-with-banner.txt")]
    public void A_damaged_line_costs_no_other(string name)
    {
        var lines = File.ReadAllLines(Path.Combine(Corpus.Folder("captures"), name));
        var whole = Captured.Of(string.Join('\n', lines) + "\n");
        int first = lines.Length - whole.Entries.Count;
        Gen.Select(Gen.Int[first, lines.Length - 1], Gen.OneOf("0Gx,; #(.\t{\"é".ToCharArray()).Array[0, 30]).Check(17, 200, drawn =>
            {
                var (damaged, text) = drawn;
                var changed = lines.ToArray();
                changed[damaged] = new string(text);
                var captured = Captured.Of(string.Join('\n', changed) + "\n");
                var kept = captured.Entries.ToList();
                // The damaged line may still be a frame; the others are there in their order.
                if (kept.Count == whole.Entries.Count)
                    kept.RemoveAt(damaged - first);
                Assert.Equal(whole.Entries.Where((_, i) => i != damaged - first), kept);
                Assert.Equal(captured.Summary!.Items, captured.Summary.Entries + captured.Summary.LeftOut);
            });
    }

    [Theory]
    [InlineData("clean.pcap", 24, 16)]
    public void A_damaged_payload_costs_no_other_packet(string name, int header, int packetHeader)
    {
        var bytes = File.ReadAllBytes(Path.Combine(Corpus.Folder("captures"), name));
        var whole = Captured.Of(bytes);
        int captured = bytes[header + 8];
        Gen.Select(Gen.Int[0, captured - 1], Gen.Byte).Sample(
            (at, value) =>
            {
                var changed = bytes.ToArray();
                changed[header + packetHeader + at] = value;
                var read = Captured.Of(changed);
                Assert.Equal(whole.Entries.Skip(1), read.Entries.Skip(read.Entries.Count - whole.Entries.Count + 1));
                Assert.Equal(read.Summary!.Items, read.Summary.Entries + read.Summary.LeftOut);
            },
            iter: 300);
    }

    private static Captured Accounted(byte[] bytes)
    {
        var captured = Captured.Of(bytes);
        if (captured.Summary is { } summary)
        {
            Assert.Equal(summary.Items, summary.Entries + summary.LeftOut);
            Assert.Equal(captured.Entries.Count, summary.Entries);
        }
        else
        {
            Assert.True(captured.Findings.HasErrors);
        }

        return captured;
    }

    private static byte[] Edit(byte[] bytes, (int Kind, int At, byte Value, int Count) edit)
    {
        int at = Math.Min(edit.At, bytes.Length);
        int count = Math.Min(edit.Count, bytes.Length - at);
        return edit.Kind switch
        {
            0 => [.. bytes[..at], edit.Value, .. bytes[at..]],
            1 => [.. bytes[..at], .. bytes[(at + count)..]],
            2 => bytes[..at],
            3 => [.. bytes[..at], .. bytes.AsSpan(at, count), .. bytes[at..]],
            _ => [.. bytes.Select((b, i) => i == at ? edit.Value : b)],
        };
    }
}
