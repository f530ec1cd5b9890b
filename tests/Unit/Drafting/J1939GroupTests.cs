using Locum.Drafting;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Drafting;

/// <summary>
/// Identifiers taken apart as SAE J1939-21 lays them out: 0x0CF00400 is the engine's frame with group 61444 in open
/// databases of this standard, 0x18FEF131 group 65265 from address 49; names and periods from memory.
/// </summary>
public sealed class J1939GroupTests
{
    [Theory]
    [InlineData(0x0CF00400, 61444, 0, "EEC1")]
    [InlineData(0x0CF00300, 61443, 0, "EEC2")]
    [InlineData(0x18FEF131, 65265, 49, "CCVS")]
    [InlineData(0x18FEEE00, 65262, 0, "ET1")]
    [InlineData(0x18FECA00, 65226, 0, "DM1")]
    [InlineData(0x18EEFF00, 60928, 0, "Address Claimed")]
    [InlineData(0x18EAFFF9, 59904, 249, "Request")]
    [InlineData(0x0C000003, 0, 3, "TSC1")]
    [InlineData(0x0CFE6CEE, 65132, 238, "TCO1")]
    [InlineData(0x18EF0BF9, 61184, 249, null)]
    public void Group_and_source_are_read(uint id, uint number, byte source, string? name)
    {
        var group = J1939Group.Of(new CanId(id, true))!.Value;

        Assert.Equal((number, source, name), (group.Number, group.Source, group.Name));
    }

    [Fact]
    public void Eleven_bits_are_no_group() => Assert.Null(J1939Group.Of(new CanId(0x2D1, false)));
}
