using Locum.Planning;
using Locum.Wire;

namespace Locum.Rendering.Views;

/// <summary>Register values of a bus of a SAM3X8E.</summary>
internal static class Sam3xViews
{
    // Receive and transmit pins of the controllers, as the board's print names them.
    private static readonly string[] s_pins = ["CANRX/CANTX", "DAC0/D53"];

    /// <summary>CAN_BR, the receive mailboxes as arguments of a C macro, and the names of the pins join the registers.</summary>
    public static void Add(PlannedBus bus, BoardPlan plan, Dictionary<string, string> registers)
    {
        registers["br"] = $"0x{Sam3xCanRegisters.Encode(bus.Timing!):X8}";
        registers["pins"] = s_pins[Math.Min(bus.Index, s_pins.Length - 1)];
        registers["boxes"] = string.Join(" \\\n    ", Sam3xMailboxes.For(FilterViews.Patterns(bus, plan)).Select(b => $"BOX(0x{b.Id:X8}u, 0x{b.Mask:X8}u, {(b.Last ? 1 : 0)})"));
    }
}
