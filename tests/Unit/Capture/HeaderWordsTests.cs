using Locum.Capture;
using Locum.Model;
using Xunit;

namespace Locum.Tests.Unit.Capture;

public sealed class HeaderWordsTests
{
    [Theory]
    [InlineData("Time Stamp", ColumnRole.Time, null)]
    [InlineData("Time (ms)", ColumnRole.Time, TimeUnit.Milliseconds)]
    [InlineData("time_us", ColumnRole.Time, TimeUnit.Microseconds)]
    [InlineData("Zeit [µs]", ColumnRole.Time, TimeUnit.Microseconds)]
    [InlineData("Timestamp [s]", ColumnRole.Time, TimeUnit.Seconds)]
    [InlineData("TimeMs", ColumnRole.Time, TimeUnit.Milliseconds)]
    [InlineData("end_us", ColumnRole.Time, TimeUnit.Microseconds)]
    [InlineData("ms", ColumnRole.Time, TimeUnit.Milliseconds)]
    [InlineData("arbitration_id", ColumnRole.Id, null)]
    [InlineData("CAN ID", ColumnRole.Id, null)]
    [InlineData("Message ID (hex)", ColumnRole.Id, null)]
    [InlineData("bus", ColumnRole.Bus, null)]
    [InlineData("Status", null, null)]
    [InlineData("is_extended_id", ColumnRole.Extended, null)]
    [InlineData("DLC", ColumnRole.Length, null)]
    [InlineData("MessageLength", ColumnRole.Length, null)]
    [InlineData("Data (hex)", ColumnRole.Data, null)]
    [InlineData("Dir", ColumnRole.Other, null)]
    [InlineData("speed", null, null)]
    public void Names_mean_columns(string name, ColumnRole? role, TimeUnit? unit)
    {
        var word = HeaderWords.Of(name);

        Assert.Equal((role, unit), (word?.Role, word?.Unit));
    }

    [Theory]
    [InlineData("D1", 1)]
    [InlineData("data[07]", 7)]
    [InlineData("Byte 3", 3)]
    [InlineData("Data_0", 0)]
    [InlineData("B5", 5)]
    public void Names_of_bytes_are_numbered(string name, int index) =>
        Assert.Equal((ColumnRole.Byte, index), HeaderWords.Of(name) is { } w ? (w.Role, w.Index) : default);

    [Theory]
    [InlineData("ID (hex)", NumberBase.Hex)]
    [InlineData("ID (dec)", NumberBase.Decimal)]
    [InlineData("id_hex", NumberBase.Hex)]
    [InlineData("ID", null)]
    public void Names_tell_how_numbers_are_written(string name, NumberBase? numbers) => Assert.Equal(numbers, HeaderWords.Of(name)!.Base);
}
