using System.Globalization;
using Locum.Planning;
using Locum.Wire;

namespace Locum.Rendering.Views;

/// <summary>What a bus of a Linux computer needs: words for "ip link", filters of the kernel (linux/can.h).</summary>
internal static class SocketCanViews
{
    private const uint Remote = 0x4000_0000;
    // What ends a node's identifiers is its address.
    private const uint AddressMask = 0xFF;
    private const int RestartMs = 1;

    /// <summary>Filters as identifier and mask; the arguments of "ip link set … type can" and "fd" join the registers.</summary>
    public static IReadOnlyList<FilterBankView> Add(PlannedBus bus, BoardPlan plan, Dictionary<string, string> registers)
    {
        var data = bus.DataRate is { } rate ? $" dbitrate {rate} dsample-point {Point(bus.DataSamplePoint)} fd on" : "";
        var restart = plan.Guards.BusOff is null ? RestartMs : 0;
        registers["link"] = $"bitrate {bus.Rate} sample-point {Point(bus.SamplePoint)}{data} restart-ms {restart}";
        registers["fd"] = bus.DataRate is null ? "false" : "true";
        // The kernel shows a program its own frames, too: that tells when they have left.
        var patterns = FilterViews.Patterns(bus, plan).Concat(plan.Frames.Where(f => f.Bus == bus.Index).Select(f => f.Frame.IsNode ? new IdPattern(f.Frame.Id, AddressMask) : IdPattern.Only(f.Frame.Id))).ToList();
        IdPattern.DropCovered(patterns);
        return [.. patterns.Select(p => new FilterBankView($"0x{p.Id.Value | (p.Id.Extended ? FilterViews.ExtendedMark : 0):X8}u", $"0x{p.Mask | FilterViews.ExtendedMark | Remote:X8}u"))];
    }

    private static string Point(int permille) => (permille / 1000.0).ToString("0.000", CultureInfo.InvariantCulture);
}
