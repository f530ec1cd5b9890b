using Xunit;

namespace Locum.Tests.Unit.Planning;

public class PinTests
{
    private const string Frames = "A: {id: 1, length: 0, every: 1 s}";
    private const string Inputs = "line: {active: high}, door: {active: low}";

    [Fact]
    public void Pins_come_from_the_board_when_the_project_is_silent()
    {
        var (plan, found) = Plan("");

        Assert.Empty(found);
        Assert.Equal(["A0/PC0", "A1/PC1"], plan!.Inputs.Select(i => $"{i.Pin!.Name}/{i.Pin.PortPin}"));
        Assert.Equal(["none", "up"], plan.Inputs.Select(i => i.Pull)); // an active-low line is pulled up
        Assert.Equal("D8", plan.Led!.Name);
        Assert.Equal(("PB2", "PD2"), (plan.Buses[0].Pins["cs"].PortPin, plan.Buses[0].Pins["int"].PortPin));
    }

    [Fact]
    public void Chosen_pins_win_and_defaults_are_handed_out_in_order()
    {
        var (plan, found) = Plan("inputs: {door: {pin: D5, pull: none}}, led: A5, buses: {body: {cs: A4}}");

        Assert.Empty(found);
        Assert.Equal(["A0", "D5"], plan!.Inputs.Select(i => i.Pin!.Name));
        Assert.Equal(["none", "none"], plan.Inputs.Select(i => i.Pull));
        Assert.Equal("A5", plan.Led!.Name);
        Assert.Equal("PC4", plan.Buses[0].Pins["cs"].PortPin);
    }

    [Theory]
    [InlineData("inputs: {line: D2}", "LC0905")] // the controller's interrupt
    [InlineData("inputs: {line: D5, door: D5}", "LC0905")]
    [InlineData("led: A0", "LC0905")] // first input
    [InlineData("led: D13", "LC0906")] // reserved
    [InlineData("led: D99", "LC0906")]
    [InlineData("led: ''", "LC0906")]
    [InlineData("buses: {body: {cs: D12}}", "LC0906")]
    [InlineData("buses: {body: {cs: D2}}", "LC0905")]
    [InlineData("inputs: {line: {pin: D5, pull: sideways}}", "LC0208")]
    [InlineData("inputs: {line: {pni: D5}}", "LC0202")]
    [InlineData("inputs: {lien: D5}", "LC0306")]
    [InlineData("buses: {boyd: {cs: D5}}", "LC0301")]
    [InlineData("buses: {body: {crystl: 8 MHz}}", "LC0202")]
    [InlineData("buses: {body: {crystal: fast}}", "LC0206")]
    [InlineData("buses: {body: {crystal: 100 MHz}}", "LC0206")]
    public void Every_pin_has_one_job(string keys, string codes) => Assert.Equal(codes, Descriptions.Ids(Plan(keys).Found));

    [Fact]
    public void A_taken_pin_names_both_jobs()
    {
        var finding = Assert.Single(Plan("led: A0").Found);

        Assert.Equal("pin A0 is both input 'line' and the LED", finding.Message);
        Assert.StartsWith("use one of: ", finding.Mend);
        Assert.DoesNotContain("D13", finding.Mend); // reserved
        Assert.DoesNotContain("A1", finding.Mend); // taken
    }

    private static (Locum.Planning.BoardPlan? Plan, IReadOnlyList<Locum.Diagnostics.Diagnostic> Found) Plan(string keys) =>
        Boards.Plan($"board: avr-mcp2515, {keys}", Boards.Module("one", "body: {rate: 500 kbit/s}", Frames, Inputs));
}
