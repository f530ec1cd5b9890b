using System.Text;
using System.Text.Json;
using Locum.Traces;
using Xunit;

namespace Locum.Tests.Unit.Traces;

public class JsonLinesTraceTests
{
    [Fact]
    public void Writes_one_object_per_line_with_the_keys_in_order()
    {
        Assert.Equal(
            """
            {"bus":"body","id":"0x2D1","extended":false,"format":"classic","length":8,"data":"00 00 3C 7F 00 00 F0 4B","sender":"cab-heat.HeaterStatus","accepted_us":7000,"start_us":7000,"end_us":7234}
            {"bus":"drive","id":"0x18FEF100","extended":true,"format":"classic","length":1,"data":"FF","sender":"","accepted_us":7100,"start_us":7250,"end_us":7401}
            {"bus":"body","id":"0x007","extended":false,"format":"classic","length":0,"data":"","sender":"cab-heat.Ping","accepted_us":1000000,"start_us":1000000,"end_us":1000096}
            {"bus":"drive","id":"0x00000010","extended":true,"format":"classic","length":2,"data":"DE AD","sender":"slip.Wheel","accepted_us":4999999000,"start_us":4999999500,"end_us":5000000000}

            """,
            Written(SampleFrames.All));
    }

    [Fact]
    public void Names_with_special_characters_survive_a_reader()
    {
        const string name = "a \"quoted\"\n\\ name <ä>";
        string line = Written([SampleFrames.All[0] with { Bus = name }]);

        Assert.Equal(line.Length - 1, line.IndexOf('\n', StringComparison.Ordinal));
        Assert.Equal(name, JsonDocument.Parse(line).RootElement.GetProperty("bus").GetString());
    }

    private static string Written(IEnumerable<Locum.Simulation.SentFrame> frames)
    {
        using var output = new MemoryStream();
        JsonLinesTrace.Write(output, frames);
        return Encoding.UTF8.GetString(output.ToArray());
    }
}
