using Locum.Wire;

namespace Locum.Tests.Properties;

/// <summary>A frame before it is written.</summary>
/// <param name="WireUs">Longest time on the wire with intermission.</param>
internal sealed record DrawnFrame(int Number, string Name, WorldBus Bus, CanId Id, FrameFormat Format, int Length, long WireUs)
{
    /// <summary>The shortest period of any mode.</summary>
    public long PeriodUs { get; set; }

    public static DrawnFrame Draw(Dice dice, World world, int number, WorldBus bus)
    {
        var id = world.NewId(dice, bus);
        var format = bus.DataRate is null || dice.Chance(40) ? FrameFormat.Classic : dice.Pick(FrameFormat.Fd, FrameFormat.FdSwitched);
        var length = format is FrameFormat.Classic ? dice.Between(0, 8) : dice.Pick(dice.Between(0, 8), 12, 16, 20, 24, 32, 48, 64);
        var wire = WireLength.Maximum(format, id.Extended, length).WithIntermission.TimeUs(bus.Rate, bus.DataRate);
        var period = world.Pace * dice.Between(0, 9) switch
        {
            0 => Math.Max(wire, 100),
            1 => Math.Max(wire, dice.Time(100, 3_000)),
            2 => Math.Max(wire, dice.Time(60_000, 200_000)),
            _ => Math.Max(wire, dice.Time(4_000, 60_000)),
        };
        return new DrawnFrame(number, $"{dice.Pick("Status", "int", "a.b", "Überlauf", "loop_")}{number}", bus, id, format, length, wire) { PeriodUs = period };
    }
}
