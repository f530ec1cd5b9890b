using CsCheck;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class Mcp2515FiltersTests
{
    private static readonly Gen<IdPattern> s_pattern = Gen.Select(Gen.Bool, Gen.UInt, Gen.UInt, Gen.Int[0, 3], Gen.Int[0, 7]).Select((extended, value, open, kind, near) =>
    {
        var all = extended ? CanId.MaxExtended : CanId.MaxStandard;
        // Single identifiers, far and near; a few open bits as program groups and addresses have them; any mask.
        var id = kind is 0 ? (0x120u + (uint)near) & all : value & all;
        var mask = kind switch { 0 or 1 => all, 2 => all & ~(extended ? 0xFFFFu : 0x3Fu), _ => all & open };
        return new IdPattern(new CanId(id, extended), mask);
    });

    private static readonly Gen<(IdPattern[] Patterns, uint[] Noise, byte[] Data)> s_case =
        Gen.Select(s_pattern.Array[0, 14], Gen.UInt.Array[40], Gen.Byte.Array[0, 8]);

    [Fact]
    public void What_is_listened_to_always_comes_in() => s_case.Check(31, 1500, c =>
    {
        var model = new Mcp2515FilterModel(Mcp2515Filters.For(c.Patterns).Registers);
        foreach (var pattern in c.Patterns)
            foreach (var noise in c.Noise)
                Assert.True(model.Accepts(Inside(pattern, noise), c.Data), $"{pattern} among {string.Join(", ", c.Patterns)}");
    });

    [Fact]
    public void Filters_are_exact_when_two_and_four_fit() => s_case.Check(32, 1500, c =>
    {
        // One mask for two patterns and one for four, of one length each: so they fit, whatever they are.
        var groups = c.Patterns.GroupBy(p => (p.Id.Extended, p.Mask)).Take(2).ToArray();
        var patterns = groups.SelectMany((g, i) => g.Take(i is 0 ? 4 : 2)).ToArray();
        var model = new Mcp2515FilterModel(Mcp2515Filters.For(patterns).Registers);
        foreach (var pattern in c.Patterns)
            foreach (var noise in c.Noise)
            {
                // Identifiers of all kinds: far away, and one bit beside a wanted one.
                var all = pattern.Id.Extended ? CanId.MaxExtended : CanId.MaxStandard;
                foreach (var id in new[] { new CanId(noise & all, pattern.Id.Extended), new CanId((pattern.Id.Value ^ 1u << (int)(noise % 29)) & all, pattern.Id.Extended) })
                    // An unused buffer is shut with the identifier that is last in arbitration.
                    if (id != new CanId(CanId.MaxExtended, true))
                        Assert.Equal(patterns.Any(p => p.Matches(id)), model.Accepts(id, c.Data));
            }
    });

    [Fact]
    public void Six_single_identifiers_are_exact_and_a_seventh_widens_little()
    {
        uint[] ids = [0x100, 0x155, 0x2A3, 0x3FF, 0x400, 0x7E8];
        Assert.Equal(6, Accepted(ids));
        // 0x101 differs from 0x100 in one bit.
        Assert.InRange(Accepted([.. ids, 0x101]), 7, 12);
    }

    [Fact]
    public void Two_identifiers_leave_the_second_buffer_to_the_overflow()
    {
        var registers = Mcp2515Filters.For([Single(0x155), Single(0x2D1)]).Registers;
        // SIDH has the upper 8 of the 11 bits, SIDL the lower 3 from bit 7 on (data sheet, registers RXFnSIDH and RXFnSIDL).
        Assert.Equal([0x2A, 0xA0, 0, 0], registers[0]);
        Assert.Equal([0x5A, 0x20, 0, 0], registers[1]);
        Assert.Equal([0xFF, 0xE0, 0, 0], registers[6]);
        Assert.All(registers.Skip(2).Take(4), r => Assert.Equal([0xFF, 0xEB, 0xFF, 0xFF], r));
        Assert.Equal([0xFF, 0xE3, 0xFF, 0xFF], registers[7]);
    }

    [Fact]
    public void Nothing_comes_in_where_nothing_is_listened_to()
    {
        var model = new Mcp2515FilterModel(Mcp2515Filters.For([]).Registers);
        Assert.DoesNotContain(Enumerable.Range(0, 0x800), i => model.Accepts(new CanId((uint)i, false), [0xFF, 0xFF]));
        Assert.False(model.Accepts(new CanId(0x1FFF_FFFE, true), []));
    }

    [Fact]
    public void A_mutated_register_is_noticed_by_the_model()
    {
        var registers = Mcp2515Filters.For([Single(0x155), Single(0x2D1)]).Registers.Select(r => r.ToArray()).ToArray();
        registers[0][1] ^= 0x20;
        Assert.False(new Mcp2515FilterModel(registers).Accepts(new CanId(0x155, false), []));
    }

    private static int Accepted(uint[] ids)
    {
        var model = new Mcp2515FilterModel(Mcp2515Filters.For(ids.Select(Single)).Registers);
        Assert.All(ids, i => Assert.True(model.Accepts(new CanId(i, false), [1, 2])));
        return Enumerable.Range(0, 0x800).Count(i => model.Accepts(new CanId((uint)i, false), [0x55]));
    }

    private static IdPattern Single(uint id) => new(new CanId(id, false), CanId.MaxStandard);

    private static CanId Inside(IdPattern pattern, uint noise)
    {
        var all = pattern.Id.Extended ? CanId.MaxExtended : CanId.MaxStandard;
        return new CanId(((pattern.Id.Value & pattern.Mask) | (noise & ~pattern.Mask)) & all, pattern.Id.Extended);
    }
}
