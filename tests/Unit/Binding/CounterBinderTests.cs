using Xunit;

namespace Locum.Tests.Unit.Binding;

public class CounterBinderTests
{
    [Theory]
    [InlineData("{}", "0 15 1 0 False False")]
    [InlineData("{from: 1, to: 14}", "1 14 1 1 False False")]
    [InlineData("{from: 14, to: 2, step: 4}", "14 2 4 14 False False")]
    [InlineData("{to: 9, step: 3, start: 6, advance: slot, restart: entry}", "0 9 3 6 True True")]
    [InlineData("{advance: sent, restart: never}", "0 15 1 0 False False")]
    public void A_field_may_have_a_counter_of_its_own(string counter, string expected)
    {
        var (module, found) = Descriptions.Bind(Descriptions.Fields($"f: {{bit: 0, bits: 4, counter: {counter}}}"));
        var c = Assert.Single(module.Counters);

        Assert.Empty(found);
        Assert.Equal(expected, $"{c.From} {c.To} {c.Step} {c.Start} {c.PerSlot} {c.RestartOnEntry}");
    }

    [Theory]
    [InlineData("{from: 3, to: 3}", "LC0703")]
    [InlineData("{from: 0, to: 3, step: 4}", "LC0703")]
    [InlineData("{from: 0, to: 9, start: 10}", "LC0209")]
    [InlineData("{from: 0, to: 9, step: 2, start: 3}", "LC0209")]
    [InlineData("{from: -1}", "LC0209")]
    [InlineData("{step: 0}", "LC0209")]
    [InlineData("{to: 4294967296}", "LC0209")]
    [InlineData("{to: many}", "LC0205")]
    [InlineData("{advance: always}", "LC0208")]
    [InlineData("{form: 1}", "LC0202")]
    [InlineData("[1]", "LC0204")]
    [InlineData("nothing-shared", "LC0702")]
    public void Counters_that_make_no_sense_are_refused(string counter, string code) =>
        Assert.Equal(code, Descriptions.Ids(Descriptions.Bind(Descriptions.Fields($"f: {{bit: 0, bits: 4, counter: {counter}}}")).Found));

    [Fact]
    public void A_shared_counter_says_where_it_ends() =>
        Assert.Equal("LC0203", Descriptions.Ids(Descriptions.Bind(Descriptions.Module("counters: {c: {from: 0}}\nframes: {F: {id: 1, length: 1, every: 1 s}}")).Found));

    [Fact]
    public void A_counter_of_32_bits_runs_through_all_values()
    {
        var (module, _) = Descriptions.Bind(Descriptions.Fields("f: {bit: 0, bits: 32, counter: {}}"));

        Assert.Equal(1UL << 32, module.Counters[0].Count);
    }
}
