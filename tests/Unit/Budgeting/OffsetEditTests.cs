using Locum.Budgeting;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Budgeting;

public class OffsetEditTests
{
    private const string Text = """
        locum: 1   # a comment
        module: fan
        frames:
          # spaced  oddly
          A: {id: 1, length: 0,   every: 10 ms, offset: 3 ms }   # flow
          "B":
            id: 2
            length: 0
            every: 20 ms   # block, without offset
            base: ''
          C: {id: 3, every: 1 s}
          D:
            offset:   0 ms  # block
            every: 50 ms

        """;

    [Fact]
    public void Only_the_scalar_changes()
    {
        var edited = Apply(Text, ("A", 7_500), ("B", 12_000), ("C", 500), ("D", 40_000));

        Assert.Equal(
            Text.Replace("offset: 3 ms", "offset: 7.5 ms").Replace("without offset\n", "without offset\n    offset: 12 ms\n")
                .Replace("every: 1 s}", "every: 1 s, offset: 0.5 ms}").Replace("offset:   0 ms", "offset:   40 ms"),
            edited);
    }

    [Fact]
    public void Line_ends_stay() =>
        Assert.Equal(
            Text.Replace("\n", "\r\n").Replace("without offset\r\n", "without offset\r\n    offset: 12 ms\r\n").Replace("0 ms  # block", "1 ms  # block"),
            Apply(Text.Replace("\n", "\r\n"), ("B", 12_000), ("D", 1_000)));

    [Fact]
    public void A_frame_that_is_not_there_is_refused() => Assert.Null(Apply(Text, ("E", 1_000)));

    private static string? Apply(string text, params (string Frame, long Us)[] offsets) =>
        OffsetEdit.Apply(new SourceText("fan.yaml", text), offsets.ToDictionary(o => o.Frame, o => o.Us));
}
