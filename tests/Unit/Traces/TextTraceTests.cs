using Locum.Traces;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Traces;

public class TextTraceTests
{
    [Fact]
    public void Aligns_the_columns()
    {
        Assert.Equal(
            "      end [s] bus       id         len data                    sender\n" +
            "     0.007234 body      0x2D1        8 00 00 3C 7F 00 00 F0 4B HeaterStatus\n" +
            "     0.007401 drive     0x18FEF100   1 FF\n" +
            "     1.000096 body      0x007        0                         cab-heat.Ping\n" +
            "  5000.000000 drive     0x00000010   2 DE AD                   slip.Wheel\n",
            Written(SampleFrames.All[0], SampleFrames.All[1], SampleFrames.All[2], SampleFrames.All[3]));
    }

    [Fact]
    public void Stays_within_80_columns_whatever_the_lengths()
    {
        string text = Written(SampleFrames.All[0] with
        {
            Bus = new string('b', 50),
            Sender = new string('s', 50),
            Data = new byte[64],
            Format = FrameFormat.FdSwitched,
            EndUs = 99_999_999_999_999,
        });

        Assert.All(text.Split('\n'), line => Assert.InRange(line.Length, 0, 80));
        Assert.Contains("bbbbbbbb~ ", text, StringComparison.Ordinal);
        Assert.Contains(" 64b 00 00 00 00 00 00 00 0~ ", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Marks_can_fd_behind_the_length()
    {
        string text = Written(SampleFrames.All[0], SampleFrames.All[0] with { Format = FrameFormat.Fd }, SampleFrames.All[0] with { Format = FrameFormat.FdSwitched });

        Assert.Equal(["  8", " 8f", " 8b"], text.Split('\n')[1..4].Select(line => line[35..38]));
    }

    private static string Written(params Locum.Simulation.SentFrame[] frames)
    {
        using var output = new StringWriter { NewLine = "\r\n" };
        TextTrace.Write(output, frames);
        return output.ToString();
    }
}
