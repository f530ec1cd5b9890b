using Locum.Diagnostics;
using Xunit;

namespace Locum.Tests.Golden;

/// <summary>Right descriptions, which together say everything the language can say.</summary>
public class ValidTests
{
    private const string Kind = "valid";

    public static TheoryData<string> Cases => [.. Corpus.Cases(Kind)];

    [Theory]
    [MemberData(nameof(Cases))]
    public void A_right_description_has_no_findings_and_can_be_planned(string name)
    {
        var loaded = Corpus.Load(Kind, name);

        Assert.Equal("no findings\n", Corpus.Print(Kind, name));
        Assert.Equal(name is "stimulus.yaml" || name.StartsWith("layout", StringComparison.Ordinal), loaded.Plans.Count is 0);
    }

    [Fact]
    public void The_corpus_has_at_least_twenty_cases() => Assert.InRange(Corpus.Cases(Kind).Count, 20, int.MaxValue);

    [Theory]
    [MemberData(nameof(Cases))]
    public void Loading_twice_gives_the_same(string name)
    {
        var first = Corpus.Load(Kind, name);
        var second = Corpus.Load(Kind, name);

        Assert.Equal(first.Plans.SelectMany(p => p.Frames).Select(f => (f.Sender, f.Row, f.Frame.Id)), second.Plans.SelectMany(p => p.Frames).Select(f => (f.Sender, f.Row, f.Frame.Id)));
        Assert.Equal(first.Plans.SelectMany(p => p.Modules).Select(m => m.Module.Hash), second.Plans.SelectMany(p => p.Modules).Select(m => m.Module.Hash));
    }
}
