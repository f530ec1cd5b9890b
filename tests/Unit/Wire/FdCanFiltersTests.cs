using CsCheck;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class FdCanFiltersTests
{
    private static readonly Gen<IdPattern> s_pattern =
        Gen.Select(Gen.Bool, Gen.UInt, Gen.UInt, Gen.Int[0, 3]).Select((extended, value, mask, shape) =>
        {
            var all = extended ? CanId.MaxExtended : CanId.MaxStandard;
            var id = new CanId((shape is 1 ? value & 0x3F : value) & all, extended);
            return new IdPattern(id, (shape switch { 0 or 1 => all, 2 => mask, _ => mask & mask << 7 }) & all);
        });

    // Computed by hand from the layouts of RM0440 (from memory): SFT 31..30, SFEC 29..27, SFID1 26..16, SFID2 10..0;
    // EFEC 31..29 of F0, EFT 31..30 of F1.
    [Fact]
    public void Patterns_make_these_elements()
    {
        var filters = FdCanFilters.Pack(
        [
            IdPattern.Only(new CanId(0x123, false)), IdPattern.Only(new CanId(0x456, false)), new IdPattern(new CanId(0x700, false), 0x7F0),
            IdPattern.Only(new CanId(0x18FF_1234, true)), new IdPattern(new CanId(0x0CF0_0400, true), 0x00FF_FF00),
        ]);
        Assert.Equal([0x4923_0456u, 0x8F00_07F0u], filters.Standard);
        Assert.Equal([(0x38FF_1234u, 0x58FF_1234u), (0x2CF0_0400u, 0x80FF_FF00u)], filters.Extended);
    }

    [Fact]
    public void Nothing_to_hear_needs_no_element() => Assert.Equal((0, 0), Counts(FdCanFilters.Pack([])));

    // 28 elements of two identifiers of 11 bits, 8 of two of 29 (RM0440, from memory).
    [Theory]
    [InlineData(56, false, 28)]
    [InlineData(16, true, 8)]
    public void The_elements_hold_so_many_single_identifiers(int count, bool extended, int elements)
    {
        var ids = Enumerable.Range(0, count).Select(i => new CanId((uint)i * 7 + 1, extended)).ToList();
        var filters = FdCanFilters.Pack(ids.Select(IdPattern.Only));
        Assert.Equal(elements, extended ? filters.Extended.Count : filters.Standard.Count);
        for (uint id = 0; id < 0x7FF; id++)
            Assert.Equal(ids.Contains(new CanId(id, extended)), FdCanFilterModel.Passes(filters, new CanId(id, extended)));
    }

    [Fact]
    public void Few_patterns_pass_exactly_what_they_match() =>
        Gen.Select(s_pattern.Array[1, 8], Gen.UInt.Array[40]).Sample((patterns, noise) =>
        {
            var filters = FdCanFilters.Pack(patterns);
            foreach (var id in Ids(patterns, noise))
                Assert.Equal(patterns.Any(p => p.Matches(id)), FdCanFilterModel.Passes(filters, id));
        });

    [Fact]
    public void Many_patterns_all_pass_and_fit() =>
        Gen.Select(s_pattern.Array[60, 150], Gen.UInt.Array[20]).Sample((patterns, noise) =>
        {
            var filters = FdCanFilters.Pack(patterns);
            Assert.True(filters.Standard.Count <= FdCanFilters.StandardMost && filters.Extended.Count <= FdCanFilters.ExtendedMost);
            foreach (var id in Ids(patterns, noise).Where(id => patterns.Any(p => p.Matches(id))))
                Assert.True(FdCanFilterModel.Passes(filters, id));
        }, iter: 30);

    private static (int, int) Counts(FdCanFilters filters) => (filters.Standard.Count, filters.Extended.Count);

    private static IEnumerable<CanId> Ids(IEnumerable<IdPattern> patterns, IEnumerable<uint> noise) =>
        patterns.Select(p => p.Id).Concat(noise.SelectMany(n => new[] { new CanId(n & CanId.MaxStandard, false), new CanId(n & CanId.MaxExtended, true) }))
            .Concat(patterns.Zip(noise, (p, n) => new CanId((p.Id.Value & p.Mask) | (n & ~p.Mask & (p.Id.Extended ? CanId.MaxExtended : CanId.MaxStandard)), p.Id.Extended)));
}
