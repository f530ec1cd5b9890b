using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Text;

public class SpanTests
{
    [Fact]
    public void The_start_of_a_file_is_its_first_line_and_column() =>
        Assert.Equal(new Span("f", 1, 1, 1, 1), Span.Start("f"));

    [Fact]
    public void The_first_character_ends_one_column_further() =>
        Assert.Equal(new Span("f", 3, 5, 3, 6), new Span("f", 3, 5, 9, 2).First());

    [Fact]
    public void Text_is_what_editors_jump_to() => Assert.Equal("a/b.yaml:3:5", new Span("a/b.yaml", 3, 5, 9, 2).ToString());
}
