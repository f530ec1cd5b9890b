using Locum.Diagnostics;
using Xunit;

namespace Locum.Tests.Unit.Diagnostics;

public class NearestTests
{
    private static readonly string[] s_words = ["every", "fields", "frames", "id", "id kind", "length", "offset"];

    [Theory]
    [InlineData("evry", "every")]
    [InlineData("evrey", "every")]
    [InlineData("Fields", "fields")]
    [InlineData("lenght", "length")]
    [InlineData("idkind", "id kind")]
    [InlineData("ids", "id")]
    [InlineData("xyz", null)]
    [InlineData("", null)]
    [InlineData("completely different", null)]
    public void The_closest_word_within_a_third_of_the_length_is_offered(string word, string? expected) =>
        Assert.Equal(expected, Nearest.To(word, s_words));

    [Fact]
    public void Of_two_equally_close_words_the_first_in_order_is_offered() =>
        Assert.Equal("cat", Nearest.To("bat", ["hat", "cat"]));

    [Theory]
    [InlineData("evry", "did you mean 'every'?")]
    [InlineData("xyz", "use one of: every, fields, frames, id, id kind, length, offset")]
    public void A_mend_offers_the_word_or_the_list(string word, string expected) =>
        Assert.Equal(expected, Nearest.Mend(word, s_words, "key"));

    [Fact]
    public void A_mend_without_candidates_says_so() =>
        Assert.Equal("there is no input to name here", Nearest.Mend("x", [], "input"));

    [Fact]
    public void A_long_list_is_cut_and_cleaned()
    {
        string[] many = ["esc\u001b", .. Enumerable.Range(0, 1000).Select(i => $"number {i}")];

        var mend = Nearest.Mend("zzzzzzzz", many, "mode");

        Assert.StartsWith("use one of: esc·, number 0, ", mend);
        Assert.EndsWith(", …", mend);
        Assert.InRange(mend.Length, 100, 400);
    }
}
