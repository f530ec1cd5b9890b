using Locum.Diagnostics;
using Xunit;

namespace Locum.Tests.Unit.Planning;

/// <summary>Settings of the boards with interfaces or free pins for their controllers.</summary>
public sealed class OtherBoardTests
{
    private const string Two = "a: {rate: 500 kbit/s}, b: {rate: 250 kbit/s}";
    private const string Frames = "F: {bus: a, id: 1, length: 1, every: 20 ms}, G: {bus: b, id: 1, length: 1, every: 20 ms}";

    [Fact]
    public void Buses_have_interfaces_of_their_own()
    {
        var (plan, found) = Boards.Plan("board: linux-socketcan", Boards.Module("m", Two, Frames));
        Assert.Empty(found);
        Assert.Equal(["can0", "can1"], plan!.Buses.Select(b => b.Settings["interface"]));

        (_, found) = Boards.Plan("board: linux-socketcan, buses: {b: {interface: can0}}", Boards.Module("m", Two, Frames));
        Assert.Equal(Codes.PinTaken, Assert.Single(found).Code);
        (_, found) = Boards.Plan("board: linux-socketcan, buses: {b: {interface: \"can0; reboot\"}}", Boards.Module("m", Two, Frames));
        Assert.Equal(Codes.UnknownWord, Assert.Single(found).Code);
    }

    [Fact]
    public void Pins_of_a_controller_are_taken_once()
    {
        var (plan, found) = Boards.Plan("board: esp32c6-twai", Boards.Module("m", Two, Frames));
        Assert.Empty(found);
        Assert.Equal(["IO18", "IO20"], plan!.Buses.Select(b => b.Pins["tx"].Name));

        (_, found) = Boards.Plan("board: esp32c6-twai, buses: {b: {tx: IO19}}", Boards.Module("m", Two, Frames));
        Assert.Equal(Codes.PinTaken, Assert.Single(found).Code);
        (_, found) = Boards.Plan("board: stm32f103-bxcan", Boards.Module("m", Two, Frames));
        Assert.Contains(found, d => d.Code == Codes.TooManyBuses);
        (plan, found) = Boards.Plan("board: esp32-twai, buses: {b: {controller: TWAI}}", Boards.Module("m", Two, Frames));
        Assert.Empty(found);
        Assert.Equal(["SPI", "TWAI"], plan!.Buses.Select(b => b.Settings["controller"]));
        (_, found) = Boards.Plan("board: esp32-twai, buses: {a: {controller: SPI}, b: {controller: SPI}}", Boards.Module("m", Two, Frames));
        Assert.Contains(found, d => d.Code == Codes.PinTaken);
        (_, found) = Boards.Plan("board: esp32-twai, buses: {b: {tx: IO19}}", Boards.Module("m", Two, Frames));
        Assert.Equal(Codes.UnknownKey, Assert.Single(found).Code);
        (_, found) = Boards.Plan("board: sam3x8e-can, buses: {a: {tx: IO19}}", Boards.Module("m", Two, Frames));
        Assert.Equal(Codes.UnknownKey, Assert.Single(found).Code);
    }
}
