using Locum.Wire;

namespace Locum.Tests.Unit.Wire;

/// <summary>
/// What an FDCAN controller's filter elements let in, from the words alone (RM0440, "FDCAN", filter elements; layouts from
/// memory).
/// </summary>
internal static class FdCanFilterModel
{
    public static bool Passes(FdCanFilters filters, CanId id) => id.Extended
        ? filters.Extended.Any(e => e.F0 >> 29 is 1 && Matches(e.F1 >> 30, id.Value, e.F0 & 0x1FFF_FFFF, e.F1 & 0x1FFF_FFFF))
        : filters.Standard.Any(e => ((e >> 27) & 7) is 1 && Matches(e >> 30, id.Value, (e >> 16) & 0x7FF, e & 0x7FF));

    // Range, two identifiers, identifier and mask; 3 is off for 11 bits and a range for 29.
    private static bool Matches(uint type, uint id, uint first, uint second) => type switch
    {
        0 => first <= id && id <= second,
        1 => id == first || id == second,
        2 => ((id ^ first) & second) is 0,
        _ => throw new ArgumentOutOfRangeException(nameof(type)),
    };
}
