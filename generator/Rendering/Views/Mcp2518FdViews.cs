using Locum.Planning;
using Locum.Wire;

namespace Locum.Rendering.Views;

/// <summary>Register values of a bus on an MCP2518FD-class controller.</summary>
internal static class Mcp2518FdViews
{
    /// <summary>CiNBTCFG, CiDBTCFG and CiTDC join the registers; the filters are returned.</summary>
    public static IReadOnlyList<FilterBankView> Add(PlannedBus bus, BoardPlan plan, Dictionary<string, string> registers)
    {
        registers["nbtcfg"] = $"0x{Mcp2518FdRegisters.Encode(bus.Timing!):X8}u";
        registers["dbtcfg"] = bus.Choice?.Data is { } data ? $"0x{Mcp2518FdRegisters.EncodeData(data):X8}u" : "0u";
        registers["tdc"] = $"0x{Mcp2518FdRegisters.EncodeCompensation(bus.Choice?.Compensation):X8}u";
        return [.. Mcp2518FdFilters.Pack(FilterViews.Patterns(bus, plan)).Select(f => new FilterBankView($"0x{f.Object:X8}u", $"0x{f.Mask:X8}u"))];
    }
}
