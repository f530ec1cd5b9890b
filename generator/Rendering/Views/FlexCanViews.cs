using Locum.Planning;
using Locum.Wire;

namespace Locum.Rendering.Views;

/// <summary>Register values of a bus on a FlexCAN controller.</summary>
internal static class FlexCanViews
{
    /// <summary>The controller's number from 0 on, its bit timing and its receive mailboxes as arguments of a C macro join the registers.</summary>
    public static void Add(PlannedBus bus, BoardPlan plan, Dictionary<string, string> registers)
    {
        var data = bus.Choice?.Data;
        registers["number"] = $"{plan.Kind.Choice(ControllerPlanner.Setting, 0)!.ToList().IndexOf(bus.Controller)}";
        registers["ctrl1"] = data is null ? $"0x{FlexCanRegisters.Encode(bus.Timing!):X8}u" : "0u";
        registers["cbt"] = data is null ? "0u" : $"0x{FlexCanFdRegisters.Encode(bus.Timing!):X8}u";
        registers["fdcbt"] = data is null ? "0u" : $"0x{FlexCanFdRegisters.EncodeData(data):X8}u";
        registers["fdctrl"] = $"0x{FlexCanFdRegisters.EncodeCompensation(bus.Choice?.Compensation):X8}u";
        registers["boxes"] = string.Join(" \\\n        ", FlexCanMailboxes.For(FilterViews.Patterns(bus, plan)).Select(b => $"BOX(0x{b.Id:X8}u, 0x{b.Mask:X8}u, {(b.Extended ? 1 : 0)})"));
    }
}
