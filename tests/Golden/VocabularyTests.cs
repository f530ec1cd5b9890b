using Locum.Binding;
using Locum.Diagnostics;
using Locum.Syntax;
using Xunit;

namespace Locum.Tests.Golden;

/// <summary>The valid corpus says everything that can be said.</summary>
public class VocabularyTests
{
    private static readonly HashSet<string> s_keys = new(StringComparer.Ordinal);
    private static readonly HashSet<string> s_values = new(StringComparer.Ordinal);

    static VocabularyTests()
    {
        foreach (var file in Directory.EnumerateFiles(Corpus.Folder("valid"), "*.yaml", SearchOption.AllDirectories))
        {
            var bag = new DiagnosticBag();
            if (SyntaxReader.ReadFile(file, bag) is { } source && SyntaxReader.Read(source, bag) is { } root)
                Collect(root);
        }
    }

    [Fact]
    public void Every_key_of_the_language_is_used()
    {
        var known = Vocabulary.Keys();

        // Some that are easy to miss, so that a change of the binders' style cannot empty the list unseen.
        Assert.All(["locum", "sample point", "until", "restart", "own bits", "secret", "before", "from", "stalls", "bootloader"], key => Assert.Contains(key, known));
        Assert.All(known, key => Assert.Contains(key, s_keys));
    }

    [Fact]
    public void Every_word_of_the_language_is_used()
    {
        var known = Vocabulary.Words();

        Assert.All(["high-voltage", "wake line", "29 bit", "big", "slot", "twos", "nibbles", "id byte 3", "zero"], word => Assert.Contains(word, known));
        Assert.All(known, word => Assert.Contains(word, s_values));
    }

    [Theory]
    [InlineData("pin")]
    [InlineData("pull")]
    [InlineData("cs")]
    [InlineData("int")]
    [InlineData("crystal")]
    [InlineData("pins")]
    [InlineData("other")]
    [InlineData("sum")]
    [InlineData("xor")]
    public void Keys_that_are_asked_for_in_other_ways_are_used(string key) => Assert.Contains(key, s_keys);

    [Fact]
    public void Every_named_sum_is_used() =>
        Assert.All(ChecksumRuleBinder.AllNames.Where(n => !n.StartsWith("crc", StringComparison.Ordinal)), rule => Assert.Contains(rule, s_values));

    private static void Collect(SyntaxNode node)
    {
        switch (node)
        {
            case ScalarNode scalar:
                s_values.Add(scalar.Value);
                break;
            case SequenceNode list:
                foreach (var item in list.Items)
                    Collect(item);
                break;
            case MappingNode mapping:
                foreach (var entry in mapping.Entries)
                {
                    s_keys.Add(entry.Key.Value);
                    Collect(entry.Value);
                }
                break;
        }
    }
}
