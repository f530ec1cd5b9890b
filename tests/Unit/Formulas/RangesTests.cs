using Locum.Formulas;
using Xunit;

namespace Locum.Tests.Unit.Formulas;

/// <summary>No part of a formula ever leaves its range.</summary>
public sealed class RangesTests
{
    private static readonly int[] s_corners = [int.MinValue, int.MinValue + 1, -65536, -33, -32, -31, -2, -1, 0, 1, 2, 3, 7, 31, 32, 33, 255, 65535, int.MaxValue - 1, int.MaxValue];

    [Fact]
    public void Values_of_drawn_formulas_lie_in_the_ranges_of_all_their_parts()
    {
        var texts = new FormulaTexts(17);
        var inputs = FormulaProgram.Inputs(40);
        var checkedParts = 0;
        for (var i = 0; i < 1500; i++)
        {
            var text = texts.Draw((i % 4) + 1);
            foreach (var part in Parts(Sample.Parse(text).Formula!.Root))
            {
                var value = Evaluator.Compile(part);
                foreach (var input in inputs)
                    Assert.True(part.Range.Contains(value(input)), $"{text}: {part.Key} is {value(input)}, range {part.Range}");
                checkedParts++;
            }
        }
        Assert.True(checkedParts > 5000, $"{checkedParts}");
    }

    [Fact]
    public void Results_of_every_operator_lie_in_its_range()
    {
        var random = new Random(23);
        foreach (var operation in Enum.GetValues<BinaryOperator>())
            for (var i = 0; i < 4000; i++)
            {
                var (a, b) = (Draw(random), Draw(random));
                var range = Ranges.Of(operation, a, b);
                foreach (var x in Inside(a, random))
                    foreach (var y in Inside(b, random))
                        Assert.True(range.Contains(Arithmetic.Apply(operation, x, y)), $"{x} {Operators.Sign(operation)} {y} = {Arithmetic.Apply(operation, x, y)}; {a}, {b}: {range}");
            }
    }

    [Theory]
    [InlineData("u8 + u16", 0, 65790)]
    [InlineData("s8 * s8", -16256, 16384)]
    [InlineData("u8 / 3", 0, 85)]
    [InlineData("-100 % u8", -100, 0)]
    [InlineData("s16 >> 4", -2048, 2047)]
    [InlineData("u8 & 0x3C", 0, 0x3C)]
    [InlineData("lock | 0x30", 0x30, 0x3F)]
    [InlineData("u8 ^ lock", 0, 255)]
    [InlineData("~lock", -16, -1)]
    [InlineData("u8 < 256", 1, 1)]
    [InlineData("u8 == 256", 0, 0)]
    [InlineData("(u8 & 0xF0) == 0x0F", 0, 0)]
    [InlineData("u8 == u8", 1, 1)]
    [InlineData("u8 < 5 && u8 > 9", 0, 0)]
    [InlineData("u8 > 5 || u8 < 9", 1, 1)]
    [InlineData("mode == running && mode == asleep", 0, 0)]
    [InlineData("mode == running || mode != running", 1, 1)]
    [InlineData("flag ? 3 : -3", -3, 3)]
    [InlineData("clamp(s32, -7, 9)", -7, 9)]
    [InlineData("abs(s8)", 0, 128)]
    [InlineData("bits(s32, 4, 5)", 0, 31)]
    [InlineData("sum(0, 7)", 0, 2040)]
    [InlineData("id + length", 0x2D9, 0x2D9)]
    public void Ranges_are_as_narrow_as_expected(string text, int low, int high) =>
        Assert.Equal(new Interval(low, high), Sample.Parse(text).Formula!.Root.Range);

    private static IEnumerable<FormulaNode> Parts(FormulaNode node) => node.Parts.SelectMany(Parts).Prepend(node);

    private static Interval Draw(Random random)
    {
        var (a, b) = (s_corners[random.Next(s_corners.Length)], s_corners[random.Next(s_corners.Length)]);
        return new Interval(Math.Min(a, b), Math.Max(a, b));
    }

    private static IEnumerable<int> Inside(Interval range, Random random) =>
        s_corners.Where(c => range.Contains(c)).Append((int)random.NextInt64(range.Low, range.High + 1L));
}
