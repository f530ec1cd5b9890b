using Xunit;

namespace Locum.Tests.Unit.Planning;

public class BoardPlannerTests
{
    private const string Body = "body: {rate: 500 kbit/s}";

    [Fact]
    public void Buses_and_inputs_of_one_name_are_joined_and_frames_are_sorted_by_arbitration()
    {
        var (plan, found) = Boards.Plan("board: pc",
            Boards.Module("one", Body + ", work: {rate: 250 kbit/s}", "C: {bus: work, id: 1, length: 0, every: 1 s}, B: {bus: body, id: 0x200, length: 0, every: 1 s}", "line: {active: high}"),
            Boards.Module("two", Body, "D: {id: 0x800, length: 0, every: 1 s}, A: {id: 0x100, length: 0, every: 1 s}", "door: {active: low}, line: {active: high}"));

        Assert.Empty(found);
        Assert.Equal(["body", "work"], plan!.Buses.Select(b => b.Name));
        Assert.Equal(["line", "door"], plan.Inputs.Select(i => i.Name));
        Assert.Equal([1, 0], plan.Modules[1].Inputs);
        // 0x800 as a 29-bit identifier starts with eleven 0 bits and wins against 0x100 (ISO 11898-1, from memory).
        Assert.Equal(["two.D", "two.A", "one.B", "one.C"], plan.Frames.Select(f => f.Sender));
        Assert.Equal([0, 1, 2, 3], plan.Frames.Select(f => f.Row));
    }

    [Theory]
    [InlineData("body: {rate: 250 kbit/s}", "LC0903")]
    [InlineData("body: {rate: 500 kbit/s, sample point: 80 %}", "LC0903")]
    [InlineData("body: {rate: 500 kbit/s, sample point: 87.5 %}", "")]
    [InlineData("other: {rate: 250 kbit/s}", "")]
    public void Modules_that_share_a_bus_agree_about_it(string bus, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Boards.Plan("board: pc", Boards.Module("one", Body, "A: {id: 1, length: 0, every: 1 s}"), Boards.Module("two", bus, "B: {id: 2, length: 0, every: 1 s}")).Found));

    [Theory]
    [InlineData("line: {active: low}", "LC0908")]
    [InlineData("line: {active: high, debounce: 1 ms}", "LC0908")]
    [InlineData("Line: {active: high}", "LC0211")] // one name in C
    public void Modules_that_share_an_input_agree_about_it(string input, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Boards.Plan("board: pc",
            Boards.Module("one", Body, "A: {id: 1, length: 0, every: 1 s}", "line: {active: high}"),
            Boards.Module("two", Body, "B: {id: 2, length: 0, every: 1 s}", input)).Found));

    [Fact]
    public void One_identifier_in_two_modules_is_a_clash() =>
        Assert.Equal("LC0502", Descriptions.Ids(Boards.Plan("board: pc", Boards.Module("one", Body, "A: {id: 1, length: 0, every: 1 s}"), Boards.Module("two", Body, "B: {id: 1, length: 0, every: 1 s}")).Found));

    [Fact]
    public void Modules_whose_names_become_one_in_c_are_refused() =>
        Assert.Equal("LC0211", Descriptions.Ids(Boards.Plan("board: pc", Boards.Module("a-b", Body, "A: {id: 1, length: 0, every: 1 s}"), Boards.Module("a b", Body, "B: {id: 2, length: 0, every: 1 s}")).Found));

    [Fact]
    public void The_table_of_a_board_holds_254_frames()
    {
        string Frames(int first, int count) => string.Join(", ", Enumerable.Range(first, count).Select(i => $"F{i}: {{id: {i}, length: 0, every: 10 s}}"));

        Assert.Empty(Boards.Plan("board: pc", Boards.Module("one", Body, Frames(0, 127)), Boards.Module("two", Body, Frames(127, 127))).Found);
        Assert.Equal("LC0212", Descriptions.Ids(Boards.Plan("board: pc", Boards.Module("one", Body, Frames(0, 127)), Boards.Module("two", Body, Frames(127, 128))).Found));
    }

    [Fact]
    public void A_board_has_as_many_buses_as_controllers()
    {
        string Buses(int count) => Boards.Module("one",
            string.Join(", ", Enumerable.Range(0, count).Select(i => $"b{i}: {{rate: 500 kbit/s}}")),
            string.Join(", ", Enumerable.Range(0, count).Select(i => $"F{i}: {{bus: b{i}, id: 1, length: 0, every: 1 s}}")));

        Assert.Empty(Boards.Plan("board: stm32f103-bxcan", Buses(1)).Found);
        Assert.Contains(Boards.Plan("board: stm32f103-bxcan", Buses(2)).Found, d => d.Code.Id is "LC0902" && d.Message.Contains("1 controller,"));
    }

    [Fact]
    public void A_board_has_at_most_16_inputs()
    {
        string Inputs(string name, int first) => Boards.Module(name, Body, $"F{first}: {{id: {first}, length: 0, every: 1 s}}",
            string.Join(", ", Enumerable.Range(first, 9).Select(i => $"i{i}: {{active: high}}")));

        Assert.Equal("LC0212", Descriptions.Ids(Boards.Plan("board: pc", Inputs("one", 0), Inputs("two", 9)).Found));
        Assert.DoesNotContain(Boards.Plan("board: pc", Inputs("one", 0), Inputs("two", 7)).Found, d => d.Code.Id is "LC0212");
    }

    [Theory]
    [InlineData("board: avr-mcp2515, bootloader: yes", "100 ms", "LC0907")]
    [InlineData("board: avr-mcp2515, bootloader: no", "100 ms", "")]
    [InlineData("board: avr-mcp2515, bootloader: yes", "1600 ms", "")] // the board file says 1600 ms
    [InlineData("board: stm32f103-bxcan, bootloader: yes", "100 ms", "")]
    public void A_bootloader_that_delays_the_first_frame_is_an_error(string keys, string offset, string codes) =>
        Assert.Equal(codes, Descriptions.Ids(Boards.Plan(keys, Boards.Module("one", Body, $"A: {{id: 1, length: 0, every: 10 s, offset: {offset}}}")).Found));

    [Fact]
    public void An_unknown_board_gives_no_plan_and_a_suggestion()
    {
        var (plan, found) = Boards.Plan("board: avr-mcp2551", Boards.Module("one", Body, "A: {id: 1, length: 0, every: 1 s}"));

        Assert.Null(plan);
        Assert.Equal("did you mean 'avr-mcp2515'?", Assert.Single(found).Mend);
    }

    [Theory]
    [InlineData("")]
    [InlineData("body: 7")]
    public void A_module_without_a_usable_bus_is_planned_without_a_fault(string buses)
    {
        var (plan, found) = Boards.Plan("board: pc", Boards.Module("one", buses, "A: {id: 1, length: 0, every: 1 s}"));

        Assert.NotEmpty(found);
        Assert.NotNull(plan);
    }
}
