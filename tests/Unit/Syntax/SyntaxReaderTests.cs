using Locum.Syntax;
using Xunit;

namespace Locum.Tests.Unit.Syntax;

public class SyntaxReaderTests
{
    [Fact]
    public void Scalars_keep_their_text_and_whether_they_were_quoted()
    {
        var root = Assert.IsType<MappingNode>(Descriptions.Parse("a: yes\nb: 'yes'\nc: 0x1F\nd:\ne: ''\n").Root);

        Assert.Equal(["yes", "yes", "0x1F", "", ""], root.Entries.Select(e => ((ScalarNode)e.Value).Value));
        Assert.Equal([false, true, false, false, true], root.Entries.Select(e => ((ScalarNode)e.Value).Quoted));
    }

    [Fact]
    public void All_duplicate_keys_are_reported_in_one_run_each_with_its_first_place()
    {
        var (root, found) = Descriptions.Parse("a: 1\nb: {c: 1, c: 2}\na: 2\na: 3\n");

        Assert.Equal("LC0104 LC0104 LC0104", Descriptions.Ids(found));
        Assert.Equal([(2, 11, 2, 5), (3, 1, 1, 1), (4, 1, 1, 1)], found.Select(d => (d.Span.Line, d.Span.Column, d.Other!.Value.Line, d.Other.Value.Column)));
        Assert.Equal("1", ((ScalarNode)((MappingNode)root!).Entries[0].Value).Value);
    }

    [Theory]
    [InlineData("a: &x 1\nb: *x\n", "LC0105 LC0105")]
    [InlineData("a: !tag 1\n", "LC0105")]
    [InlineData("a: !!str 1\n", "LC0105")]
    [InlineData("[a]: 1\n", "LC0204")]
    [InlineData("a: 1\n---\nb: 2\n", "LC0108")]
    [InlineData("", "LC0102")]
    [InlineData("# only a comment\n\n", "LC0102")]
    [InlineData("a: [1, 2\n", "LC0103")]
    [InlineData("a:\n  b: 1\n\tc: 1\n", "LC0103")]
    [InlineData("a: 1\0\n", "LC0107")]
    [InlineData("a: \"\\UFFFFFFFF\"\n", "LC0103")]
    [InlineData("a: \"\\ud800\"\n", "LC0103")]
    public void What_is_not_part_of_the_language_is_named(string text, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Descriptions.Parse(text).Found));

    [Fact]
    public void A_tab_in_the_indentation_is_explained()
    {
        var finding = Assert.Single(Descriptions.Parse("a:\n\tb: 1\n").Found);

        Assert.Contains("tabs", finding.Mend);
        Assert.Equal((2, 1), (finding.Span.Line, finding.Span.Column));
    }

    [Fact]
    public void Nesting_ends_at_the_limit()
    {
        string Nested(int levels) => string.Concat(Enumerable.Repeat("[", levels)) + string.Concat(Enumerable.Repeat("]", levels));

        Assert.Empty(Descriptions.Parse(Nested(SyntaxReader.MaxDepth)).Found);
        Assert.Equal("LC0106", Descriptions.Ids(Descriptions.Parse(Nested(SyntaxReader.MaxDepth + 2)).Found));
    }

    [Fact]
    public void Findings_about_long_keys_stay_short()
    {
        var key = new string('k', 900);

        Assert.All(Descriptions.Parse($"{key}: 1\n{key}: 2\n").Found, d => Assert.InRange(d.Message.Length, 1, 200));
    }
}
