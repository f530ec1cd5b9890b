using System.Text.Json;
using Xunit;

namespace Locum.Tests.Unit.Cli;

public class BudgetTimingCommandTests
{
    private const int Columns = 80;

    [Fact]
    public void Every_board_is_shown_in_80_columns()
    {
        var (code, output, _) = CommandLine.Run("budget", "timing");

        Assert.Equal(0, code);
        Assert.Contains("avr-mcp2515: 500 kbit/s", output);
        Assert.Contains("stm32f103-bxcan: 1 Mbit/s", output);
        Assert.All(output.Split('\n'), l => Assert.InRange(l.Length, 0, Columns));
    }

    // The word that the boards' own planner writes: 8 MHz / 16 quanta, 1 + 13 + 2.
    [Fact]
    public void Json_has_registers_conditions_and_what_was_not_taken()
    {
        var (code, output, _) = CommandLine.Run("budget", "timing", "avr-mcp2515", "--rate", "500 kbit/s", "--format", "json");

        Assert.Equal(0, code);
        var line = JsonDocument.Parse(output).RootElement.GetProperty("timings")[0];
        Assert.True(line.GetProperty("holds").GetBoolean());
        Assert.Equal([0x00, 0xA7, 0x01], line.GetProperty("registers").EnumerateArray().Select(r => r.GetProperty("value").GetInt32()));
        Assert.Equal(2, line.GetProperty("conditions").GetArrayLength());
        Assert.Contains("sample point", line.GetProperty("nominal").GetProperty("notTaken")[0].GetProperty("why").GetString());
    }

    [Fact]
    public void A_clock_that_is_too_loose_or_cannot_make_the_rate_is_a_finding()
    {
        var loose = CommandLine.Run("budget", "timing", "avr-mcp2515", "--rate", "500 kbit/s", "--tolerance", "0.5 %");
        Assert.Equal(1, loose.Code);
        Assert.Contains("REFUSED: 3125 ppm are left to the oscillator, 5000 ppm are stated", loose.Output);
        var fast = CommandLine.Run("budget", "timing", "--controller", "mcp2515", "--clock", "8 MHz", "--rate", "1 Mbit/s");
        Assert.Equal(1, fast.Code);
        Assert.Contains("REFUSED: this clock cannot make the rate", fast.Output);
        Assert.Contains("REFUSED: a classic controller has no data phase", CommandLine.Run("budget", "timing", "avr-mcp2515", "--data-rate", "2 Mbit/s").Output);
    }

    [Fact]
    public void Both_phases_of_can_fd_with_compensation()
    {
        var (code, output, _) = CommandLine.Run("budget", "timing", "--controller", "fdcan", "--clock", "40 MHz", "--rate", "500 kbit/s", "--sample-point", "80 %", "--data-rate", "2 Mbit/s", "--data-sample-point", "80 %");

        Assert.Equal(0, code);
        Assert.Contains("registers: NBTP 0x1E003E0F, DBTP 0x00800E33, TDCR 0x00001000", output);
        Assert.Contains("delay compensation: on, offset 16 clocks = 400 ns", output);
    }

    [Fact]
    public void A_project_shows_the_buses_of_its_boards()
    {
        var (code, output, _) = CommandLine.Run("budget", "timing", RepoRoot.Path("projects", "depot-loco"));

        Assert.Equal(0, code);
        Assert.Contains("cab, bus body: 500 kbit/s", output);
    }

    [Theory]
    [InlineData("is neither a kind of board nor a file", "budget", "timing", "avr-mcp2516")]
    [InlineData("has no bit timing", "budget", "timing", "pc")]
    [InlineData("there is no controller 'fdcam'", "budget", "timing", "--controller", "fdcam", "--clock", "40 MHz")]
    [InlineData("a controller needs its clock", "budget", "timing", "--controller", "fdcan")]
    [InlineData("a board has its controller and clock", "budget", "timing", "pc", "--clock", "8 MHz")]
    [InlineData("--clock", "budget", "timing", "--clock", "fast")]
    [InlineData("--rate", "budget", "timing", "--rate", "2 Mbit/s")]
    public void Bad_input_has_a_clear_error(string expected, params string[] arguments)
    {
        var (code, output, error) = CommandLine.Run(arguments);

        Assert.Equal(2, code);
        Assert.Contains(expected, error + output);
    }
}
