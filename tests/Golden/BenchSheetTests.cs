using Locum.Tests.Unit.Cli;
using Xunit;

namespace Locum.Tests.Golden;

/// <summary>The demo's bench sheets as committed.</summary>
public class BenchSheetTests
{
    [Theory]
    [InlineData("text", "depot-loco.txt")]
    [InlineData("markdown", "depot-loco.md")]
    public void The_demo_gives_exactly_the_expected_sheets(string format, string file)
    {
        var (code, actual, _) = CommandLine.Run("bench", RepoRoot.Path("projects", "depot-loco"), "--format", format);
        Assert.Equal(0, code);
        Accepted.Equal(actual, "bench", file);
    }
}
