using Locum.Planning;
using Locum.Wire;

namespace Locum.Rendering.Views;

/// <summary>Acceptance filters from the frames that a board's modules listen to, and from its own where it watches for foreign senders.</summary>
internal static class FilterViews
{
    /// <summary>Marks a 29-bit identifier, in the core as in Linux.</summary>
    internal const uint ExtendedMark = 0x8000_0000;

    /// <summary>The banks of a bxCAN controller; the bits that belong to them join the other registers.</summary>
    public static IReadOnlyList<FilterBankView> BxCan(PlannedBus bus, BoardPlan plan, Dictionary<string, string> registers)
    {
        var banks = BxCanFilters.Pack(Patterns(bus, plan));
        registers["fm1r"] = Bits(banks.Select(b => b.List));
        registers["fs1r"] = Bits(banks.Select(b => b.Wide));
        registers["fa1r"] = Bits(banks.Select(_ => true));
        return [.. banks.Select(b => new FilterBankView($"0x{b.R1:X8}u", $"0x{b.R2:X8}u"))];
    }

    /// <summary>Adds the filters and masks of an MCP2515 to the other registers, rxf0 to rxf5, rxm0 and rxm1, as lists of bytes.</summary>
    public static void AddMcp2515(PlannedBus bus, BoardPlan plan, Dictionary<string, string> registers)
    {
        string[] names = ["rxf0", "rxf1", "rxf2", "rxf3", "rxf4", "rxf5", "rxm0", "rxm1"];
        foreach (var (name, bytes) in names.Zip(Mcp2515Filters.For(Patterns(bus, plan)).Registers))
            registers[name] = string.Join(", ", bytes.Select(b => $"0x{b:X2}"));
    }

    /// <summary>The elements of an FDCAN controller's message RAM.</summary>
    public static FdCanFilters FdCan(PlannedBus bus, BoardPlan plan) => FdCanFilters.Pack(Patterns(bus, plan));

    /// <summary>Identifiers and masks as the core has them, with the mark of 29 bits in both.</summary>
    public static IReadOnlyList<FilterBankView> Plain(PlannedBus bus, BoardPlan plan)
    {
        var patterns = Patterns(bus, plan).ToList();
        IdPattern.DropCovered(patterns);
        return [.. patterns.Select(p => new FilterBankView($"0x{p.Id.Value | (p.Id.Extended ? ExtendedMark : 0):X8}u", $"0x{p.Mask | ExtendedMark:X8}u"))];
    }

    /// <summary>What a board listens to on a bus: its modules' frames, and its own where it watches for foreign senders.</summary>
    internal static IEnumerable<IdPattern> Patterns(PlannedBus bus, BoardPlan plan)
    {
        var received = from planned in plan.Modules
                       from r in planned.Module.Receives
                       where planned.Buses[r.Bus] == bus.Index
                       select new IdPattern(r.Id, r.Mask);
        return plan.Guards.Foreign ? received.Concat(plan.Frames.Where(f => f.Bus == bus.Index).Select(f => IdPattern.Only(f.Frame.Id))) : received;
    }

    private static string Bits(IEnumerable<bool> banks) => $"0x{banks.Select((set, i) => set ? 1u << i : 0).Aggregate(0u, (a, b) => a | b):X4}";
}
