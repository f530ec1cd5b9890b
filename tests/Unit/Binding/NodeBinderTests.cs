using Locum.Model;
using Locum.Tests.Properties;
using Xunit;

namespace Locum.Tests.Unit.Binding;

/// <summary>Nodes of SAE J1939: the places of the NAME's parts (J1939-81, from memory, and two published claims), and what a node brings into the module.</summary>
public sealed class NodeBinderTests
{
    [Theory]
    [InlineData("identity: 0x1FFFFF", 0x0000_0000_001F_FFFF)]
    [InlineData("manufacturer: 0x7FF", 0x0000_0000_FFE0_0000)]
    [InlineData("ecu instance: 7", 0x0000_0007_0000_0000)]
    [InlineData("function instance: 31", 0x0000_00F8_0000_0000)]
    [InlineData("function: 255", 0x0000_FF00_0000_0000)]
    [InlineData("vehicle system: 127", 0x00FE_0000_0000_0000)]
    [InlineData("vehicle system instance: 15", 0x0F00_0000_0000_0000)]
    [InlineData("industry group: 7", 0x7000_0000_0000_0000)]
    [InlineData("arbitrary address: yes", 0x8000_0000_0000_0000)]
    [InlineData("arbitrary address: no", 0)]
    [InlineData("arbitrary address: yes, manufacturer: 0x123, identity: 0x12345", 0x8000_0000_2461_2345)]
    public void Every_part_has_its_place(string parts, ulong name) => Assert.Equal(name, Bind($"{{{parts}}}").NameValue);

    // The user's manual of the keypad PKP-2200-SI (J1939, rev. 1.0, section 18) prints its claim: 18EEFF21, 3F 42 6F 1A 00 82 3C C0.
    // As parts: identity 999999, manufacturer 211, function 130, vehicle system 30, industry group 4, arbitrary address.
    [Fact]
    public void The_claim_of_a_keypads_manual_reads_as_parts() =>
        Assert.Equal(Bind("3F 42 6F 1A 00 82 3C C0").NameValue,
            Bind("{identity: 999999, manufacturer: 211, function: 130, vehicle system: 30, industry group: 4, arbitrary address: yes}").NameValue);

    // pretty_j1939 (nmfta-repo/pretty_j1939, tests/test_name_tracking.py) finds the identity 12345 in 39 30 A0 02 00 03 02 A0.
    [Fact]
    public void The_identity_is_where_pretty_j1939_finds_it() => Assert.Equal(12345u, Bind("39 30 A0 02 00 03 02 A0").NameValue & 0x1F_FFFF);

    [Fact]
    public void A_node_has_a_row_and_listens_to_what_concerns_it()
    {
        var module = Load("{function: 25}", "0xFEEB: {text: DEPOT*LIFT-2*}");
        var node = module.Nodes.Single();
        Assert.Equal("0x18EEFF17", module.Frames[node.Frame].Id.ToString());
        Assert.Equal(["0x18EA1700 3FFFF00 3", "0x18EAFF00 3FFFF00 3", "0x18EEFF17 3FFFFFF 8", "0x18EC1700 3FFFF00 8"],
            new[] { node.Request, node.RequestToAll, node.Claim, node.Connection!.Value }.Select(r => module.Receives[r]).Select(r => $"{r.Id} {r.Mask:X} {r.Length}"));
        Assert.Equal(50_000, node.SpacingUs);
    }

    [Fact]
    public void Without_long_answers_nothing_is_heard_of_receivers() =>
        Assert.Equal((null, 3), (Bind("{}").Connection, Load("{}", "0xFEEB: {text: DEPOT}").Receives.Count));

    // A frame that is asked for is sent by events besides its period; its own events stay.
    [Fact]
    public void Frames_that_are_answers_take_events()
    {
        var module = Load("{}", "0xF0A4: {frame: Plain}, 0xF0A5: {frame: Twice}");
        Assert.Equal((1, 0), (module.Frames[0].Events!.Repeat, module.Frames[0].Events!.Triggers.Count));
        Assert.Equal((2, 1), (module.Frames[1].Events!.Repeat, module.Frames[1].Events!.Triggers.Count));
        Assert.Equal([0, 1], module.Nodes[0].Answers.Select(a => a.Frame!.Value));
    }

    private static Node Bind(string name) => Load(name, "").Nodes.Single();

    private static Module Load(string name, string answers) => new GeneratedProject([$$"""
        locum: 1
        module: m
        hazard: none
        buses: {b: {rate: 250 kbit/s} }
        frames:
          Plain: {id: 0x18F0A417, length: 8, every: 100 ms}
          Twice: {id: 0x18F0A517, length: 8, on: {start: yes}, repeat: 2, spacing: 20 ms}
        j1939: {node: {address: 0x17, name: {{name}}, answers: { {{answers}} } } }
        """], []).Load().Use.Modules.Single();
}
