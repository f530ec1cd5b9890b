using Locum.Pages;
using Xunit;

namespace Locum.Tests.Unit.Pages;

public sealed class PayloadMapTests
{
    // Bit 7 stands at the left, so a field of the low nibble is the right half of its row.
    [Fact]
    public void Fields_and_constant_bits_stand_where_they_are_sent()
    {
        var map = Map("base: A5 00 00, fields: {low: {bit: 0, bits: 4, value: 1}, big: {bit: 16, bits: 12, order: big, value: 5}, c: {bit: 12, bits: 4, counter: {}}}");
        Assert.Equal([("0%", "50%", "base", "1010"), ("50%", "50%", "value", "1 low")], Cells(map, 0));
        Assert.Equal([("0%", "50%", "counter", "3 c"), ("50%", "50%", "value", "2 big")], Cells(map, 1));
        Assert.Equal([("0%", "100%", "value", "2 big")], Cells(map, 2));
        Assert.Equal("big, bits 11 to 8", map.Rows[1].Cells[1].Hint);
        Assert.Equal("big, bits 7 to 0", map.Rows[2].Cells[0].Hint);
        Assert.Equal("low, whole", map.Rows[0].Cells[1].Hint);
    }

    [Fact]
    public void An_empty_payload_has_no_rows() => Assert.Empty(Map("length: 0").Rows);

    private static List<(string, string, string, string)> Cells(PayloadMap map, int row) => [.. map.Rows[row].Cells.Select(c => (c.X, c.Width, c.Kind, c.Label))];

    private static PayloadMap Map(string frame)
    {
        var length = frame.StartsWith("length", StringComparison.Ordinal) ? "" : "length: 3, ";
        var (module, found) = Descriptions.Bind(Descriptions.Module($"frames: {{F: {{id: 0x100, every: 20 ms, {length}{frame}}}}}"));
        Assert.Empty(found);
        return PayloadMap.Of(module.Frames[0], module.Frames[0].Fields.Select((f, i) => (f, i)).ToDictionary(f => f.f, f => f.i + 1));
    }
}
