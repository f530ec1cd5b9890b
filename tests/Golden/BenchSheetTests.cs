using Locum.Tests.Unit.Cli;
using Xunit;

namespace Locum.Tests.Golden;

/// <summary>The demo's bench sheets as committed. To accept new output run the tests with LOCUM_ACCEPT=1, as for wrong descriptions.</summary>
public class BenchSheetTests
{
    [Theory]
    [InlineData("text", "depot-loco.txt")]
    [InlineData("markdown", "depot-loco.md")]
    public void The_demo_gives_exactly_the_expected_sheets(string format, string file)
    {
        var (code, actual, _) = CommandLine.Run("bench", RepoRoot.Path("projects", "depot-loco"), "--format", format);
        var expected = RepoRoot.Path("tests", "Golden", "bench", file);
        if (Environment.GetEnvironmentVariable("LOCUM_ACCEPT") is "1")
        {
            File.WriteAllText(expected, actual);
            Assert.Fail($"accepted {file}; run again without LOCUM_ACCEPT");
        }

        Assert.Equal(0, code);
        Assert.True(File.Exists(expected), $"{expected} is missing; accept it with LOCUM_ACCEPT=1");
        Assert.Equal(File.ReadAllText(expected), actual);
    }
}
