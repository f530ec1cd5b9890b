using Locum.Traces;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Traces;

public class CsvTraceTests
{
    [Fact]
    public void Writes_one_row_per_frame()
    {
        using var output = new StringWriter { NewLine = "\r\n" };
        CsvTrace.Write(output, SampleFrames.All);

        Assert.Equal(
            "time,bus,id,extended,format,length,data,sender,accepted_us,start_us\n" +
            "0.007234,body,0x2D1,0,classic,8,00 00 3C 7F 00 00 F0 4B,cab-heat.HeaterStatus,7000,7000\n" +
            "0.007401,drive,0x18FEF100,1,classic,1,FF,,7100,7250\n" +
            "1.000096,body,0x007,0,classic,0,,cab-heat.Ping,1000000,1000000\n" +
            "5000.000000,drive,0x00000010,1,classic,2,DE AD,slip.Wheel,4999999000,4999999500\n",
            output.ToString());
    }

    // Source: RFC 4180, section 2, rules 5 to 7.
    [Theory]
    [InlineData("a,b", "\"a,b\"")]
    [InlineData("say \"x\"", "\"say \"\"x\"\"\"")]
    [InlineData("two\nlines", "\"two\nlines\"")]
    [InlineData("plain name", "plain name")]
    public void Quotes_only_where_needed(string bus, string expected)
    {
        using var output = new StringWriter();
        CsvTrace.Write(output, [SampleFrames.All[0] with { Bus = bus, Data = [], Id = new CanId(1, false) }]);

        string row = output.ToString()[(output.ToString().IndexOf('\n', StringComparison.Ordinal) + 1)..];
        Assert.Equal($"0.007234,{expected},0x001,0,classic,0,,cab-heat.HeaterStatus,7000,7000\n", row);
    }

    [Fact]
    public void Names_the_format_of_can_fd_frames()
    {
        using var output = new StringWriter();
        CsvTrace.Write(output, [SampleFrames.All[2] with { Format = FrameFormat.Fd }, SampleFrames.All[2] with { Format = FrameFormat.FdSwitched }]);

        Assert.Equal(["fd", "fd-switched"], output.ToString().Split('\n')[1..3].Select(row => row.Split(',')[4]));
    }
}
