using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public sealed class Mcp2518FdFiltersTests
{
    // Positions: SID in bits 10..0, EID in 28..11, EXIDE and MIDE in 30 (public header of the open-source driver mcp251xfd).
    [Fact]
    public void Filters_lie_where_the_header_says()
    {
        Assert.Equal(new Mcp2518FdFilter(0x123, 0x400007FF), Mcp2518FdFilter.For(IdPattern.Only(new CanId(0x123, false))));
        Assert.Equal(new Mcp2518FdFilter(0x40000000 | 0x63F | (0x31234u << 11), 0x5FFFFFFF), Mcp2518FdFilter.For(IdPattern.Only(new CanId(0x18FF1234, true))));
        Assert.Equal(new Mcp2518FdFilter(0x120, 0x400007F0), Mcp2518FdFilter.For(new IdPattern(new CanId(0x12F, false), 0x7F0)));
    }

    [Fact]
    public void More_patterns_than_filters_are_joined()
    {
        var patterns = Enumerable.Range(0, 40).Select(i => IdPattern.Only(new CanId(0x100u + (uint)i * 3, false))).ToList();
        var filters = Mcp2518FdFilters.Pack(patterns);
        Assert.Equal(Mcp2518FdFilters.Most, filters.Count);
        Assert.All(patterns, p => Assert.Contains(filters, f => ((f.Object ^ p.Id.Value) & f.Mask & 0x7FF) is 0));
        Assert.Equal(3, Mcp2518FdFilters.Pack(patterns.Take(3)).Count);
    }
}
