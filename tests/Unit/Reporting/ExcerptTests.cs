using CsCheck;
using Locum.Reporting;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Reporting;

public class ExcerptTests
{
    // Widths after Unicode Standard Annex #11, from memory: 扉 is wide, é may be e with a joining accent, 🚪 is one wide pair.
    [Theory]
    [InlineData("ab: c", 5, 6, "ab: c", "    ^")]
    [InlineData("扉: c", 4, 5, "扉: c", "    ^")]
    [InlineData("扉: c", 1, 2, "扉: c", "^^")]
    [InlineData("🚪: c", 5, 6, "🚪: c", "    ^")]
    [InlineData("🚪: c", 1, 3, "🚪: c", "^^")]
    [InlineData("e\u0301: c", 5, 6, "e\u0301: c", "   ^")]
    [InlineData("\tx: c", 2, 3, " x: c", " ^")]
    [InlineData("a", 2, 2, "a", " ^")]
    [InlineData("a", 9, 12, "a", " ^")]
    [InlineData("", 1, 1, "", "^")]
    public void Carets_stand_under_the_place(string line, int column, int endColumn, string shown, string carets)
    {
        var excerpt = Excerpt.Of(new SourceText("f", line), new Span("f", 1, column, 1, endColumn), 72);

        Assert.Equal((shown, carets), (excerpt.Line, excerpt.Carets));
    }

    [Fact]
    public void Carets_of_a_place_with_several_lines_reach_to_the_end_of_the_first()
    {
        var excerpt = Excerpt.Of(new SourceText("f", "a: b\nc: d"), new Span("f", 1, 4, 2, 3), 72);

        Assert.Equal("   ^", excerpt.Carets);
    }

    [Fact]
    public void A_long_line_is_cut_around_the_place()
    {
        var line = new string('x', 200) + "HERE" + new string('y', 200);
        var excerpt = Excerpt.Of(new SourceText("f", line), new Span("f", 1, 201, 1, 205), 60);

        Assert.Equal($"…{new string('x', 24)}HERE{new string('y', 30)}…", excerpt.Line);
        Assert.Equal(new string(' ', 25) + "^^^^", excerpt.Carets);
    }

    [Fact]
    public void A_place_near_the_end_keeps_as_much_of_the_line_as_fits()
    {
        var excerpt = Excerpt.Of(new SourceText("f", new string('x', 100) + "HERE yy"), new Span("f", 1, 101, 1, 105), 60);

        Assert.Equal($"…{new string('x', 52)}HERE yy", excerpt.Line);
        Assert.Equal(new string(' ', 53) + "^^^^", excerpt.Carets);
    }

    [Fact]
    public void A_place_at_the_beginning_keeps_the_beginning()
    {
        var excerpt = Excerpt.Of(new SourceText("f", "key: " + new string('y', 200)), new Span("f", 1, 1, 1, 4), 20);

        Assert.Equal("key: yyyyyyyyyyyyyy…", excerpt.Line);
        Assert.Equal("^^^", excerpt.Carets);
    }

    [Fact]
    public void Every_place_in_every_line_fits_the_columns()
    {
        var lines = Gen.OneOf(Gen.Const("a"), Gen.Const("扉"), Gen.Const("🚪"), Gen.Const("\u0301"), Gen.Const("\t"), Gen.Const("\u001b")).Array[0, 120].Select(string.Concat);

        Gen.Select(lines, Gen.Int[1, 260], Gen.Int[0, 130], Gen.Int[8, 80]).Check(seed: 5, count: 5_000, one =>
        {
            var (line, column, length, columns) = one;
            var excerpt = Excerpt.Of(new SourceText("f", line), new Span("f", 1, column, 1, column + length), columns);
            Assert.InRange(DisplayWidth.Of(excerpt.Line), 0, columns);
            Assert.InRange(excerpt.Carets.Length, 1, columns + 1);
            Assert.EndsWith("^", excerpt.Carets);
            Assert.DoesNotContain('\u001b', excerpt.Line);
        });
    }
}
