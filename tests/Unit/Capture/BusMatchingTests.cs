using Locum.Capture;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Capture;

public sealed class BusMatchingTests
{
    [Fact]
    public void Names_come_first() =>
        Assert.Equal([(1, BusPairing.Name), (0, BusPairing.Name)], Match([Bus("body", 1, 2), Bus("drive", 3)], [Bus("Drive", 3, 4), Bus("body", 1)]));

    [Fact]
    public void Identifiers_help_where_names_do_not() =>
        Assert.Equal([(1, BusPairing.Identifiers), (0, BusPairing.Identifiers)], Match([Bus("body", 1, 2, 3), Bus("drive", 4, 5)], [Bus("can0", 4, 5, 6), Bus("can1", 1, 2)]));

    [Fact]
    public void Interfaces_that_were_swapped_are_told_by_their_identifiers() =>
        Assert.Equal([(1, BusPairing.Identifiers), (0, BusPairing.Identifiers)], Match([Bus("can0", 1, 2, 3, 4), Bus("can1", 5, 6, 7)], [Bus("can0", 5, 6, 7), Bus("can1", 1, 2, 3)]));

    // One identifier in common is chance; the name counts more.
    [Fact]
    public void A_silent_bus_keeps_its_name() =>
        Assert.Equal([(0, BusPairing.Name), (1, BusPairing.Name)], Match([Bus("a", 1, 2), Bus("b", 3)], [Bus("a"), Bus("b", 1, 3)]));

    [Fact]
    public void One_bus_on_either_side_is_taken_for_the_same() =>
        Assert.Equal([(0, BusPairing.OnlyOne)], Match([Bus("body", 1)], [Bus("can0", 2)]));

    [Fact]
    public void What_fits_nothing_is_left_alone() =>
        Assert.Equal([(0, BusPairing.Name), (-1, BusPairing.None)], Match([Bus("a", 1), Bus("b", 2)], [Bus("a", 1), Bus("c", 3)]));

    private static BusIds Bus(string name, params uint[] ids) => new(name, ids.Select(i => new CanId(i, false)).ToHashSet());

    private static List<(int, BusPairing)> Match(BusIds[] wanted, BusIds[] given) => [.. BusMatching.Match(wanted, given).Select(p => (p.Bus ?? -1, p.How))];
}
