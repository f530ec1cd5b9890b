using System.Text.Json;
using Locum.Boards;
using Xunit;

namespace Locum.Tests.Unit.Cli;

public class BoardsCommandTests
{
    [Fact]
    public void Every_board_and_its_limits_fit_80_columns()
    {
        var (code, output, _) = CommandLine.Run("boards");

        Assert.Equal(0, code);
        Assert.All(output.Split('\n'), l => Assert.InRange(l.Length, 0, 80));
        Assert.All(BoardCatalogue.Names, n => Assert.Contains(n, output));
        // As board.yaml states them.
        Assert.Matches("avr-mcp2515 +3 +3 +no +32/2 +16 +4.5-5.5 +65/1600", output);
        Assert.All(output.Split('\n').Take(1 + BoardCatalogue.Names.Count).Skip(1), l => Assert.Contains(BoardCatalogue.Names, n => l.StartsWith($"{n} ", StringComparison.Ordinal)));
    }

    [Fact]
    public void Pins_with_a_fixed_job_are_not_free()
    {
        var (_, output, _) = CommandLine.Run("boards", "--format", "json");
        var board = JsonDocument.Parse(output).RootElement.EnumerateArray().First(b => b.GetProperty("name").GetString() is "avr-mcp2515");

        var free = board.GetProperty("freePins").EnumerateArray().Select(p => p.GetString()).ToList();
        Assert.Contains("D10", free);
        Assert.DoesNotContain("D13", free);
        Assert.Equal(65_000, board.GetProperty("startBareUs").GetInt64());
    }
}
