using Locum.Capture;
using Locum.Comparing;
using Locum.Inference;
using Xunit;
using static Locum.Tests.Unit.Comparing.Garage;

namespace Locum.Tests.Unit.Comparing;

public sealed class ComparisonTests
{
    [Fact]
    public void The_same_twice_differs_in_nothing()
    {
        var one = Of("a", Every(0x100, 20_000, 10), Every(0x200, 100_000, 10, data: i => [(byte)i, 7]));
        var comparison = Comparison.Of([one], [one with { Path = "b" }]);
        Assert.Empty(comparison.Differences);
        Assert.Equal(2, comparison.Compared);
    }

    [Fact]
    public void A_cyclic_identifier_that_is_gone_is_certain()
    {
        var comparison = Comparison.Of([Of("in", Every(0x100, 20_000, 10), Every(0x200, 20_000, 10))], [Of("out", Every(0x200, 20_000, 10))]);
        var missing = Assert.Single(comparison.Differences);
        Assert.Equal((DifferenceKind.Missing, 0x100u, Confidence.Certain), (missing.Kind, missing.Id.Value, missing.Confidence));
        Assert.Equal(500, missing.Expected, 0);
        Assert.Equal(20_000, missing.PeriodUs!.Value, 0);
    }

    // Two frames in ten seconds, and ten without: (1/2)^2, which is no sign of anything.
    [Fact]
    public void A_rare_identifier_in_a_short_capture_is_not_missing()
    {
        var comparison = Comparison.Of([Of("in", At(0x100, 2, 7), Every(0x200, 20_000, 10))], [Of("out", Every(0x200, 20_000, 10))]);
        Assert.Empty(comparison.Differences);
        var rare = Assert.Single(comparison.TooRare);
        Assert.Equal(2, rare.Expected, 1);
    }

    // The same two frames, but the time without is long: (1/61)^2.
    [Fact]
    public void A_long_time_without_tells_more()
    {
        var comparison = Comparison.Of([Of("in", At(0x100, 2, 7), Every(0x200, 20_000, 10))], [Of("out", Every(0x200, 20_000, 600))]);
        Assert.Equal(["Missing 0x100 Possible"], Words(comparison));
    }

    // A hundred frames in one second of sixty say that it comes in bunches, and one bunch is one sign.
    [Fact]
    public void A_bunch_counts_once()
    {
        var comparison = Comparison.Of([Of("in", Every(0x100, 10_000, 31, from: 30), Every(0x200, 20_000, 60))], [Of("out", Every(0x200, 20_000, 60))]);
        Assert.Empty(comparison.Differences);
        Assert.Equal(0x100u, Assert.Single(comparison.TooRare).Id.Value);
    }

    [Fact]
    public void An_identifier_in_only_one_of_three_captures_is_weaker()
    {
        NamedCapture[] with = [Of("1", Every(0x100, 20_000, 10), Every(0x200, 20_000, 10)), Of("2", Every(0x200, 20_000, 10)), Of("3", Every(0x200, 20_000, 10))];
        var comparison = Comparison.Of(with, [Of("out", Every(0x200, 20_000, 10))]);
        var missing = Assert.Single(comparison.Differences);
        Assert.Equal((Confidence.Possible, 1, 3), (missing.Confidence, missing.Present, missing.Of));
    }

    // Nothing is expected while the bus sleeps.
    [Fact]
    public void Time_in_which_the_bus_sleeps_does_not_count()
    {
        var comparison = Comparison.Of(
            [Of("in", Every(0x100, 500_000, 10), Every(0x200, 20_000, 10))],
            [Of("out", Every(0x200, 20_000, 1), Every(0x200, 20_000, 61, from: 60))]);
        Assert.Empty(comparison.Differences);
        Assert.Equal(4, Assert.Single(comparison.TooRare).Expected, 0);
    }

    [Fact]
    public void What_appears_only_without_is_told()
    {
        var comparison = Comparison.Of([Of("in", Every(0x200, 20_000, 10))], [Of("out", Every(0x200, 20_000, 10), Every(0x300, 100_000, 10))]);
        Assert.Equal(["Appeared 0x300 Certain"], Words(comparison));
    }

    [Fact]
    public void Changes_of_period_length_and_bits_are_told()
    {
        var with = Of("in", Every(0x200, 20_000, 30), Every(0x210, 50_000, 30, data: _ => [1, 2, 3]), Every(0x220, 20_000, 30, data: i => [(byte)(i / 3), 0x0F]), Every(0x230, 20_000, 30, data: _ => [0x80]));
        var without = Of("out", Every(0x200, 100_000, 30), Every(0x210, 50_000, 30, data: _ => [1, 2]), Every(0x220, 20_000, 30, data: _ => [0, 0x0F]), Every(0x230, 20_000, 30, data: i => [(byte)(0x80 | (i % 2))]));
        var comparison = Comparison.Of([with], [without]);
        Assert.Equal(["Period 0x200 Certain", "Length 0x210 Certain", "Froze 0x220 Certain", "Woke 0x230 Certain"], Words(comparison));
        Assert.Equal(["every 20 ms with, every 100 ms without", "3 bytes with, 2 without", "byte 0 bits 0-6 still without", "byte 0 bit 0 alive only without"], comparison.Differences.Select(d => d.What));
    }

    // A slow value differs from drive to drive; only captures count, and two are few.
    [Fact]
    public void Another_constant_is_possible_at_most()
    {
        var comparison = Comparison.Of([Of("in", Every(0x200, 20_000, 60, data: _ => [0x31]))], [Of("out", Every(0x200, 20_000, 60, data: _ => [0x35]))]);
        Assert.Equal(["Value 0x200 Possible"], Words(comparison));
        Assert.Equal("byte 0 bit 2 of another value", comparison.Differences[0].What);
    }

    [Fact]
    public void Constants_that_differ_between_captures_of_one_kind_are_no_difference()
    {
        NamedCapture[] with = [Of("1", Every(0x200, 20_000, 10, data: _ => [1])), Of("2", Every(0x200, 20_000, 10, data: _ => [0]))];
        Assert.Empty(Comparison.Of(with, [Of("out", Every(0x200, 20_000, 10, data: _ => [1]))]).Differences);
    }

    [Fact]
    public void Buses_are_told_apart_by_identifiers_where_names_differ()
    {
        var with = On("in", ["body", "drive"], Every(0x100, 20_000, 10, bus: "body"), Every(0x110, 20_000, 10, bus: "body"), Every(0x200, 20_000, 10, bus: "drive"));
        var without = On("out", ["can0", "can1"], Every(0x200, 20_000, 10, bus: "can0"), Every(0x110, 20_000, 10, bus: "can1"));
        var comparison = Comparison.Of([with], [without]);
        var missing = Assert.Single(comparison.Differences);
        Assert.Equal(("body", 0x100u), (missing.Bus, missing.Id.Value));
        Assert.Equal([BusPairing.Name, BusPairing.Identifiers], comparison.Buses[0].How);
    }

    [Fact]
    public void A_bus_of_one_kind_of_capture_alone_is_not_compared()
    {
        var with = On("in", ["body", "drive"], Every(0x100, 20_000, 10, bus: "body"), Every(0x200, 20_000, 10, bus: "drive"));
        var comparison = Comparison.Of([with], [On("out", ["body"], Every(0x100, 20_000, 10, bus: "body"))]);
        Assert.Empty(comparison.Differences);
        Assert.Equal(["drive"], comparison.OneSided);
    }

    [Fact]
    public void A_source_address_that_is_gone_as_a_whole_is_told()
    {
        var with = Of("in", Every(0x18F0A42B, 50_000, 10, extended: true), Every(0x0CF0042B, 20_000, 10, extended: true), Every(0x18FEF100, 100_000, 10, extended: true), Every(0x18FEE021, 100_000, 10, extended: true), Every(0x18FEE121, 100_000, 10, extended: true));
        var without = Of("out", Every(0x18FEF100, 100_000, 10, extended: true), Every(0x18FEE021, 100_000, 10, extended: true));
        var addresses = Comparison.Of([with], [without]).Addresses;
        Assert.Equal([((byte)0x2B, true), (0x21, false)], addresses.Select(a => (a.Address, a.IsGone)));
        Assert.Equal((2, 2, 0), (addresses[0].Missing.Count, addresses[0].All, addresses[0].After));
    }

    // J1939-21, from memory; 0x0CF00400 is the engine's usual controller 1 and 0x18EA2B00 a request to 0x2B.
    [Theory]
    [InlineData(0x0CF00400, 3, 0xF004, 0x00)]
    [InlineData(0x18EA2B00, 6, 0xEA00, 0x00)]
    [InlineData(0x19F11223, 6, 0x1F112, 0x23)]
    public void Parts_of_29_bit_identifiers(uint id, int priority, int group, byte address) =>
        Assert.Equal((priority, group, address), SourceAddress.Parts(id));
}
