using Locum.Simulation;
using Locum.Tests.Unit.Traces;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public sealed class ParameterGroupTests
{
    // Identifiers, groups and sources from the README of pretty_j1939 (nmfta-repo/pretty_j1939): its log and what it prints beside.
    [Theory]
    [InlineData(0x10FDA300, 64931, 0)]
    [InlineData(0x08FE6E0B, 65134, 11)]
    [InlineData(0x18FDB255, 64946, 85)]
    [InlineData(0x0CF00400, 61444, 0)]
    [InlineData(0x18FF4500, 65349, 0)]
    [InlineData(0x1CFE9200, 65170, 0)]
    [InlineData(0x18F00131, 61441, 49)]
    [InlineData(0x18FEF131, 65265, 49)]
    public void Groups_to_everybody_are_those_of_a_published_log(uint id, int group, byte source)
    {
        Assert.Equal(group, ParameterGroup.Of(new CanId(id, true)));
        Assert.False(ParameterGroup.HasDestination(group));
        Assert.Equal(id, ParameterGroup.Broadcast(group, source, (int)(id >> 26)).Value);
    }

    // Destination in place of the last byte; the numbers of the protocol's groups are those of scapy (contrib/j1939.py), the rest is their scheme.
    [Theory]
    [InlineData(0x18EEFF00, 60928, 255, 0)]
    [InlineData(0x18EAFFF9, 59904, 255, 249)]
    [InlineData(0x0C000003, 0, 0, 3)]
    [InlineData(0x18ECFF00, 60416, 255, 0)]
    [InlineData(0x18EBFF00, 60160, 255, 0)]
    [InlineData(0x1CECFF3D, 60416, 255, 61)]
    [InlineData(0x18EF0BF9, 61184, 11, 249)]
    [InlineData(0x19EF0BF9, 126720, 11, 249)]
    public void Groups_with_a_destination_end_with_a_zero(uint id, int group, byte destination, byte source)
    {
        Assert.Equal(group, ParameterGroup.Of(new CanId(id, true)));
        Assert.True(ParameterGroup.HasDestination(group));
        Assert.Equal(id, ParameterGroup.To(group, destination, source, (int)(id >> 26)).Value);
    }

    [Fact]
    public void An_independent_reader_sees_the_same_parts()
    {
        CanId[] ids =
        [
            ParameterGroup.To(ParameterGroup.AddressClaimed, 255, 0x17), ParameterGroup.To(ParameterGroup.Acknowledgement, 255, 0x17),
            ParameterGroup.To(ParameterGroup.Connection, 0xF9, 0x17, 7), ParameterGroup.To(ParameterGroup.Packets, 255, 0x17, 7),
            ParameterGroup.Broadcast(0xFEEB, 0x17), ParameterGroup.Broadcast(0x1FEDA, 0x80, 3), ParameterGroup.To(0x2EF00, 1, 2, 0),
        ];
        var rows = Tshark.Fields(PcapNgTraceTests.Written([.. ids.Select((id, i) => new SentFrame("body", "m.node", id, [1, 2, 3], i, i, i))]),
            "j1939", "j1939.priority", "j1939.pgn", "j1939.pdu_format", "j1939.pdu_specific", "j1939.src_addr");

        Assert.Equal(ids.Select(id => $"{id.Value >> 26}|{ParameterGroup.Of(id)}|{id.Value >> 16 & 0xFF}|{id.Value >> 8 & 0xFF}|{id.Value & 0xFF}"), rows.Select(r => string.Join('|', r)));
    }
}
