using CsCheck;
using Locum.Tests.Unit.Schema;
using Xunit;

namespace Locum.Tests.Unit.Formatting;

/// <summary>What formatting promises, for the corpus and for what spacing and comments can make of it.</summary>
public sealed class FormatPropertyTests
{
    private static readonly IReadOnlyList<string> s_texts =
    [
        .. SchemaCorpusTests.Files("tests/Golden/valid").Concat(SchemaCorpusTests.Files("projects")).Concat(SchemaCorpusTests.Files("tests/Golden/invalid"))
            .Select(f => File.ReadAllText(RepoRoot.Path(f.Split('/'))).TrimStart('\uFEFF')).Where(Formatted.IsUsable),
    ];

    [Fact]
    public void The_corpus_keeps_its_meaning_and_its_comments()
    {
        Assert.True(s_texts.Count > 40);
        Assert.All(s_texts, Formatted.AssertPromises);
    }

    [Fact]
    public void So_does_the_corpus_with_other_spacing_and_comments_anywhere()
    {
        var usable = 0;
        Gen.Select(Gen.Int[0, s_texts.Count - 1], Gen.Select(Gen.Int[0, 5], Gen.Int[0, 1_000_000]).Array[1, 12]).Check(41, Locum.Tests.Properties.Cases.Long ? 100_000 : 1_500, draw =>
        {
            var text = draw.Item2.Aggregate(s_texts[draw.Item1], (t, change) => Spacing.Change(t, change.Item1, change.Item2));
            if (!Formatted.IsUsable(text))
                return;
            usable++;
            Formatted.AssertPromises(text);
        });
        Assert.True(usable > 700, $"only {usable} texts were usable");
    }
}
