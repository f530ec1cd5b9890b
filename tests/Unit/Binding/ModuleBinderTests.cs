using Xunit;

namespace Locum.Tests.Unit.Binding;

public class ModuleBinderTests
{
    private const string Frames = "frames: {F: {id: 0x100, length: 8, every: 20 ms}}";

    [Fact]
    public void Defaults_are_filled_in()
    {
        var (module, found) = Descriptions.Bind(Descriptions.Module(Frames));
        var frame = Assert.Single(module.Frames);

        Assert.Empty(found);
        Assert.Equal("running", Assert.Single(module.Modes).Name);
        Assert.Equal(875, module.Buses[0].SamplePoint);
        Assert.Equal((0, 0L, 8), (frame.Bus, frame.OffsetUs, frame.Base.Length));
        Assert.Equal([0], frame.Modes);
        Assert.False(frame.Id.Extended);
    }

    [Fact]
    public void Frames_without_modes_are_sent_in_every_mode_that_is_awake()
    {
        var (module, _) = Descriptions.Bind(Descriptions.Module("modes: {a: {for: 1 s, then: b}, b: {sleep: yes}, c: }\n" + Frames));

        Assert.Equal([0, 2], module.Frames[0].Modes);
        Assert.True(module.Modes[1].Sleep);
    }

    [Theory]
    [InlineData("0x7FF", false)]
    [InlineData("0x800", true)]
    [InlineData("0x1FFFFFFF", true)]
    [InlineData("5, id kind: 29 bit", true)]
    [InlineData("5, id kind: 11 bit", false)]
    public void The_size_of_an_identifier_tells_its_kind(string id, bool extended)
    {
        var (module, found) = Descriptions.Bind(Descriptions.Module($"frames: {{F: {{id: {id}, length: 8, every: 20 ms}}}}"));

        Assert.Empty(found);
        Assert.Equal(extended, module.Frames[0].Id.Extended);
    }

    [Theory]
    [InlineData("id: 0x800, id kind: 11 bit, length: 8, every: 20 ms", "LC0501")]
    [InlineData("id: 0x20000000, length: 8, every: 20 ms", "LC0209")]
    [InlineData("id: 1, length: 9, every: 20 ms", "LC0503")]
    [InlineData("id: 1, length: -1, every: 20 ms", "LC0503")]
    [InlineData("id: 1, length: 8, every: 99 us", "LC0209")]
    [InlineData("id: 1, length: 8, every: 18 min", "LC0209")] // beyond 2^30 µs
    [InlineData("id: 1, length: 8, every: 20", "LC0206")]
    [InlineData("id: 1, length: 8, every: '1,5 s'", "LC0206")]
    [InlineData("id: 1, length: 2, every: 20 ms, base: 00", "LC0504")]
    [InlineData("id: 1, length: 2, every: 20 ms, base: 00 1", "LC0210")]
    [InlineData("id: 1, length: 2, every: 20 ms, base: [0, 256]", "LC0209")]
    [InlineData("id: 1, length: 2, every: 20 ms, in: nowhere", "LC0401")]
    [InlineData("id: 1, length: 2, every: 20 ms, bus: nobody", "LC0301")]
    [InlineData("lenght: 2, id: 1, every: 20 ms", "LC0203 LC0202")]
    [InlineData("", "LC0203 LC0203 LC0203")]
    public void Frames_that_cannot_be_sent_are_refused(string frame, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Descriptions.Bind(Descriptions.Module($"frames: {{F: {{{frame}}}}}")).Found));

    [Theory]
    [InlineData("a: {for: 1 s}", "LC0404")]
    [InlineData("a: {then: a}", "LC0404 LC0405")]
    [InlineData("a: {for: 1 s, then: a}", "LC0405")]
    [InlineData("a: {for: 0 s, then: b}, b: ", "LC0209")]
    [InlineData("a: {until: {then: b}}, b: ", "LC0203")]
    [InlineData("a: {until: {line: active}}", "LC0203 LC0306")]
    [InlineData("a: {until: hurry}", "LC0204")]
    [InlineData("a: {sleep: maybe}", "LC0208")]
    [InlineData("b c: , b-c: ", "LC0211")]
    public void Modes_that_lead_nowhere_are_refused(string modes, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Descriptions.Bind(Descriptions.Module($"modes: {{{modes}}}\n{Frames}")).Found));

    [Theory]
    [InlineData("rate: 4.999 kbit/s", "LC0302")]
    [InlineData("rate: 1.1 Mbit/s", "LC0302")]
    [InlineData("rate: 5 kbit/s, sample point: 49.9 %", "LC0209")]
    [InlineData("rate: 1 Mbit/s, sample point: 95.1 %", "LC0209")]
    [InlineData("rate: 1 Mbit/s, sample point: 95 %", "")]
    [InlineData("rate: 5 kbit/s, sample point: 50 %", "")]
    public void Rates_and_sample_points_have_limits(string bus, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Descriptions.Bind($"locum: 1\nmodule: m\nhazard: none\nbuses: {{b: {{{bus}}}}}\n{Frames}").Found));

    [Theory]
    [InlineData("locum: 2", "LC0201")]
    [InlineData("locum: one", "LC0201")]
    [InlineData("locum: [1]", "LC0201")]
    [InlineData("locum: 1\nwho: me", "LC0202")]
    [InlineData("locum: 1\nsummary: {a: b}", "LC0204")]
    [InlineData("locum: 1\ninputs: []", "LC0204")]
    [InlineData("locum: 1\ninputs: {then: {active: high}}", "LC0207")]
    [InlineData("locum: 1\ninputs: {1a: {active: high}}", "LC0207")]
    [InlineData("locum: 1\ninputs: {a: {}}", "LC0203")]
    public void Sections_are_checked_one_by_one(string head, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Descriptions.Bind($"{head}\nmodule: m\nhazard: none\nbuses: {{b: {{rate: 500 kbit/s}}}}\n{Frames}").Found));

    [Theory]
    [InlineData("buses", 16, "{rate: 500 kbit/s}")]
    [InlineData("inputs", 16, "{active: high}")]
    [InlineData("modes", 32, "{}")]
    [InlineData("counters", 254, "{to: 3}")]
    [InlineData("frames", 200, "{bus: n0, id: 1, length: 0, every: 1 s}")]
    public void Entries_beyond_the_limits_are_reported_once_and_left_out(string section, int most, string entry)
    {
        string Text(int count)
        {
            var entries = string.Join(", ", Enumerable.Range(0, count).Select(i => $"n{i}: {entry}"));
            var buses = section is "buses" ? "" : "buses: {n0: {rate: 500 kbit/s}}\n";
            var frames = section is "frames" ? "" : "frames: {F: {bus: n0, id: 1, length: 0, every: 1 s}}\n";
            return $"locum: 1\nmodule: m\nhazard: none\n{buses}{frames}{section}: {{{entries}}}\n";
        }

        Assert.Empty(Descriptions.Bind(Text(most)).Found);
        var (module, found) = Descriptions.Bind(Text(most + 2));
        Assert.Equal("LC0212", Descriptions.Ids(found));
        Assert.Equal(most, new[] { module.Buses.Count, module.Inputs.Count, module.Modes.Count, module.Counters.Count, module.Frames.Count }.Max());
    }

    [Fact]
    public void A_frame_has_at_most_a_field_for_each_bit()
    {
        string Text(int count) => Descriptions.Fields(string.Join(", ", Enumerable.Range(0, count).Select(i => $"n{i}: {{bit: 0, bits: 1}}")));

        Assert.Empty(Descriptions.Bind(Text(64)).Found);
        Assert.Equal("LC0212", Descriptions.Ids(Descriptions.Bind(Text(65)).Found));
    }

    [Fact]
    public void Many_errors_are_reported_in_one_run()
    {
        var found = Descriptions.Bind("locum: 3\nmodule: '*'\nhazard: fire\nbuses: {b: {rate: fast}}\nmodes: {a: {for: 1}}\nframes: {F: {id: x, length: y, every: z}}\n").Found;

        Assert.Equal("LC0201 LC0207 LC0801 LC0206 LC0404 LC0206 LC0205 LC0205 LC0206", string.Join(' ', found.OrderBy(d => d.Span.Line).Select(d => d.Code.Id)));
    }
}
