using CsCheck;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class BxCanFiltersTests
{
    private static readonly Gen<IdPattern> s_pattern =
        Gen.Select(Gen.Bool, Gen.UInt, Gen.UInt, Gen.Int[0, 3]).Select((extended, value, mask, shape) =>
        {
            var all = extended ? CanId.MaxExtended : CanId.MaxStandard;
            // Often a single identifier, often in a small space, so that patterns cover and meet each other.
            var id = new CanId((shape is 1 ? value & 0x3F : value) & all, extended);
            return new IdPattern(id, (shape switch { 0 or 1 => all, 2 => mask, _ => mask & mask << 7 }) & all);
        });

    private static readonly Gen<(IdPattern[] Patterns, uint[] Noise)> s_few = Gen.Select(s_pattern.Array[1, 14], Gen.UInt.Array[20]);

    private static readonly Gen<(IdPattern[] Patterns, uint[] Noise)> s_many = Gen.Select(s_pattern.Array[15, 120], Gen.UInt.Array[20]);

    // Computed by hand from the layouts of RM0008 (from memory): STID at bit 5 or 21, EXID at bit 3, IDE at bit 3 or 2.
    [Theory]
    [InlineData(0x155u, false, 0x7FFu, 0x2AA0_2AA0u, 0x2AA0_2AA0u, true, false)]
    [InlineData(0x500u, false, 0x7C0u, 0xF818_A000u, 0xF818_A000u, false, false)]
    [InlineData(0u, false, 0u, 0x0018_0000u, 0x0018_0000u, false, false)]
    [InlineData(0x18FE_F100u, true, 0x1FFF_FFFFu, 0xC7F7_8804u, 0xC7F7_8804u, true, true)]
    [InlineData(0x18FE_F100u, true, 0x00FF_FF00u, 0xC7F7_8804u, 0x07FF_F806u, false, true)]
    [InlineData(0u, true, 0u, 0x0000_0004u, 0x0000_0006u, false, true)]
    public void One_pattern_makes_one_bank(uint id, bool extended, uint mask, uint r1, uint r2, bool list, bool wide) =>
        Assert.Equal(new BxCanFilterBank(r1, r2, list, wide), Assert.Single(BxCanFilters.Pack([new IdPattern(new CanId(id, extended), mask)])));

    [Fact]
    public void Nothing_to_hear_needs_no_bank() => Assert.Empty(BxCanFilters.Pack([]));

    // 14 banks of four 11-bit identifiers or two of 29 bits (RM0008).
    [Theory]
    [InlineData(56, false)]
    [InlineData(28, true)]
    public void The_banks_hold_so_many_single_identifiers(int count, bool extended)
    {
        var all = extended ? CanId.MaxExtended : CanId.MaxStandard;
        var patterns = Enumerable.Range(0, count).Select(i => new IdPattern(new CanId((uint)i, extended), all)).ToArray();
        var banks = BxCanFilters.Pack(patterns);
        Assert.Equal(BxCanFilters.Banks, banks.Count);
        Assert.False(BxCanFilterModel.Passes(banks, new CanId((uint)count, extended), remote: false));
        Assert.All(patterns, p => Assert.True(BxCanFilterModel.Passes(banks, p.Id, remote: false)));
    }

    [Fact]
    public void What_a_wider_pattern_covers_needs_no_bank()
    {
        IdPattern[] patterns = [new(new CanId(0x123, false), 0x7FF), new(new CanId(0, false), 0), new(new CanId(0x700, false), 0x700), new(new CanId(5, false), 0)];
        Assert.Equal(BxCanFilters.Pack([patterns[1]]), BxCanFilters.Pack(patterns));
    }

    [Fact]
    public void A_frame_passes_exactly_when_a_pattern_matches() =>
        s_few.Check(0xF117E5, 2_000, drawn =>
        {
            var banks = BxCanFilters.Pack(drawn.Patterns);
            Assert.InRange(banks.Count, 1, BxCanFilters.Banks);
            foreach (var id in Probes(drawn.Patterns, drawn.Noise))
            {
                Assert.Equal(drawn.Patterns.Any(p => p.Matches(id)), BxCanFilterModel.Passes(banks, id, remote: false));
                Assert.False(BxCanFilterModel.Passes(banks, id, remote: true));
            }
        });

    [Fact]
    public void Too_many_patterns_are_joined_and_nothing_is_missed() =>
        s_many.Check(0x10CC5, 100, drawn =>
        {
            var banks = BxCanFilters.Pack(drawn.Patterns);
            Assert.InRange(banks.Count, 1, BxCanFilters.Banks);
            foreach (var id in Probes(drawn.Patterns, drawn.Noise))
            {
                if (drawn.Patterns.Any(p => p.Matches(id)))
                    Assert.True(BxCanFilterModel.Passes(banks, id, remote: false));
                Assert.False(BxCanFilterModel.Passes(banks, id, remote: true));
            }
        });

    // The nearest are joined first, so a run of identifiers, which the banks cannot hold one by one, loses nothing.
    [Fact]
    public void A_long_run_of_identifiers_is_joined_without_loss()
    {
        var banks = BxCanFilters.Pack(Enumerable.Range(0x100, 64).Select(i => new IdPattern(new CanId((uint)i, false), CanId.MaxStandard)));
        Assert.InRange(banks.Count, 1, BxCanFilters.Banks);
        for (var id = 0u; id <= CanId.MaxStandard; id++)
            Assert.Equal(id is >= 0x100 and < 0x140, BxCanFilterModel.Passes(banks, new CanId(id, false), remote: false));
    }

    // Every pattern with its open bits filled by chance, its neighbours at a distance of one bit, and chance.
    private static IEnumerable<CanId> Probes(IdPattern[] patterns, uint[] noise)
    {
        foreach (var pattern in patterns)
        {
            var all = pattern.Id.Extended ? CanId.MaxExtended : CanId.MaxStandard;
            foreach (var word in noise)
                yield return pattern.Id with { Value = ((pattern.Id.Value & pattern.Mask) | (word & ~pattern.Mask)) & all };
            for (var bit = 1u; bit <= all; bit <<= 1)
                yield return pattern.Id with { Value = pattern.Id.Value ^ bit };
        }
        foreach (var word in noise)
        {
            yield return new CanId(word & CanId.MaxStandard, false);
            yield return new CanId(word & CanId.MaxExtended, true);
        }
    }
}
