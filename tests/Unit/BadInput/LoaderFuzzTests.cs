using System.Text;
using CsCheck;
using Xunit;

namespace Locum.Tests.Unit.BadInput;

/// <summary>Valid descriptions with random damage: loading never throws, and every finding keeps its promises.</summary>
public class LoaderFuzzTests
{
    private static readonly byte[][] s_corpus =
    [
        .. Directory.EnumerateFiles(RepoRoot.Path("tests", "Golden", "valid"), "*.yaml", SearchOption.AllDirectories)
            .Order(StringComparer.Ordinal).Select(File.ReadAllBytes),
    ];

    private static readonly string[] s_pieces =
    [
        ":", "{", "}", "[", "]", ",", "\n", "\t", "  ", "-", "'", "\"", "#", "&a ", "*a", "!", "|\n", ">\n", "? ", "---\n", "...\n", "%", "@", "\\", "0x", "-1", "1e9",
        "99999999999999999999", "\u0085", "\u2028", "\uFEFF", "\0", "\u001b", "🚪", "null", "other: 1", "then: then", "~", "<<: ",
    ];

    private static readonly Gen<byte[]> s_damaged =
        Gen.Select(Any(s_corpus), s_damage.List[1, 6], (text, damage) => damage.Aggregate(text, (t, d) => d(t)));

    // Every damage takes the bytes of a file and a number from 0 to 1 that chooses the place.
    private static Gen<Func<byte[], byte[]>> s_damage => Gen.OneOf(
        Gen.Select(Gen.Double[0, 1], Gen.Byte, (at, value) => (Func<byte[], byte[]>)(t => Replace(t, At(t, at), 1, [value]))),
        Gen.Select(Gen.Double[0, 1], Gen.Int[0, 7], (at, bit) => (Func<byte[], byte[]>)(t => Replace(t, At(t, at), 1, [(byte)(t.ElementAtOrDefault(At(t, at)) ^ (1 << bit))]))),
        Gen.Select(Gen.Double[0, 1], Gen.Int[0, 40], (at, count) => (Func<byte[], byte[]>)(t => Replace(t, At(t, at), count, []))),
        Gen.Select(Gen.Double[0, 1], Any(s_pieces), (at, piece) => (Func<byte[], byte[]>)(t => Replace(t, At(t, at), 0, Encoding.UTF8.GetBytes(piece)))),
        Gen.Select(Gen.Double[0, 1], Gen.Int[0, 2], (at, copies) => (Func<byte[], byte[]>)(t => Lines(t, at, (lines, i) => [.. lines[..i], .. Enumerable.Repeat(lines[i], copies), .. lines[(i + 1)..]]))),
        Gen.Select(Gen.Double[0, 1], Gen.Double[0, 1], (at, other) => (Func<byte[], byte[]>)(t => Lines(t, at, (lines, i) => Swap(lines, i, (int)(other * (lines.Length - 1)))))),
        Gen.Select(Gen.Double[0, 1], Gen.Double[0, 1], (at, other) => (Func<byte[], byte[]>)(t => SwapWords(t, at, other))));

    [Fact]
    public void Damaged_descriptions_never_make_the_loader_throw()
    {
        using var folder = new TempFolder();
        var path = folder.Path("damaged.yaml");
        var broken = 0;

        s_damaged.Check(seed: 20, count: 2_000, bytes =>
        {
            File.WriteAllBytes(path, bytes);
            try
            {
                broken += Findings.Of(path).Count > 0 ? 1 : 0;
            }
            catch (Exception e)
            {
                throw new InvalidOperationException($"after this text (Base64):\n{Convert.ToBase64String(bytes)}", e);
            }
        });

        // The damage must matter, or the property would say nothing.
        Assert.InRange(broken, 1_000, 2_000);
    }

    private static Gen<T> Any<T>(T[] all) => Gen.Int[0, all.Length - 1].Select(i => all[i]);

    private static int At(byte[] text, double at) => (int)(at * Math.Max(0, text.Length - 1));

    private static byte[] Replace(byte[] text, int at, int count, byte[] by) =>
        [.. text.Take(at), .. by, .. text.Skip(at + count)];

    private static byte[] Lines(byte[] text, double at, Func<string[], int, string[]> change)
    {
        // Latin-1 keeps every byte as it is.
        var lines = Encoding.Latin1.GetString(text).Split('\n');
        return Encoding.Latin1.GetBytes(string.Join('\n', change(lines, (int)(at * (lines.Length - 1)))));
    }

    private static string[] Swap(string[] parts, int a, int b)
    {
        (parts[a], parts[b]) = (parts[b], parts[a]);
        return parts;
    }

    private static byte[] SwapWords(byte[] text, double at, double other)
    {
        var words = Encoding.Latin1.GetString(text).Split(' ');
        return Encoding.Latin1.GetBytes(string.Join(' ', Swap(words, (int)(at * (words.Length - 1)), (int)(other * (words.Length - 1)))));
    }
}
