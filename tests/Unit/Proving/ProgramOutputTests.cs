using Locum.Proving;
using Locum.Simulation;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Proving;

public sealed class ProgramOutputTests
{
    [Fact]
    public void Every_kind_of_line_is_read()
    {
        var output = ProgramOutput.Parse("frame 0 00000123 10C0 1000 1001 1072.25\nframe 0 9ABCDEF0 - 5 - -\n\nmode 2500 0 1\r\nskipped 0 7\nmeasure sleep 12.5\nfault watchdog not fed\n", Sample.Plan);
        Assert.Equal(("b", new CanId(0x123, false), 1000.0, 1001.0, 1072.25), Parts(output.Frames[0]));
        Assert.Equal([0x10, 0xC0], output.Frames[0].Data);
        Assert.Equal(("b", new CanId(0x1ABC_DEF0, true), 5.0, -1.0, -1.0), Parts(output.Frames[1]));
        Assert.Empty(output.Frames[1].Data);
        Assert.Equal([new ModeChange(2500, 0, 0, 1)], output.Modes);
        Assert.Equal([7L], output.Skipped);
        Assert.Equal(12.5, output.Measures["sleep"]);
        Assert.Equal(["fault watchdog not fed"], output.Faults);
    }

    [Fact]
    public void Nothing_is_an_output_without_anything() => Assert.Empty(ProgramOutput.Parse("", Sample.Plan).Frames);

    [Theory]
    [InlineData("hello")]
    [InlineData("frame")]
    [InlineData("frame 0 123 00 1 2")]
    [InlineData("frame 0 123 00 1 2 3 4")]
    [InlineData("frame x 123 00 1 2 3")]
    [InlineData("frame 1 123 00 1 2 3")]
    [InlineData("frame -1 123 00 1 2 3")]
    [InlineData("frame 0 xyz 00 1 2 3")]
    [InlineData("frame 0 123456789 00 1 2 3")]
    [InlineData("frame 0 123 0 1 2 3")]
    [InlineData("frame 0 123 zz 1 2 3")]
    [InlineData("frame 0 123 00 now 2 3")]
    [InlineData("mode 1 0")]
    [InlineData("mode 1 0 x")]
    [InlineData("mode 99999999999999999999 0 1")]
    [InlineData("mode 1 1 0")]
    [InlineData("mode 1 0 2")]
    [InlineData("skipped 0")]
    [InlineData("skipped 0 many")]
    [InlineData("measure sleep long")]
    [InlineData("FRAME 0 123 00 1 2 3")]
    public void A_line_that_is_not_understood_is_shown(string line)
    {
        var thrown = Assert.Throws<FormatException>(() => ProgramOutput.Parse($"mode 1 0 1\n{line}\n", Sample.Plan));
        Assert.Contains(line, thrown.Message, StringComparison.Ordinal);
    }

    private static (string, CanId, double, double, double) Parts(PrintedFrame f) => (f.Bus, f.Id, f.AcceptedUs, f.StartUs, f.EndUs);
}
