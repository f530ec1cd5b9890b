using Locum.Formulas;
using Xunit;

namespace Locum.Tests.Unit.Formulas;

/// <summary>The arithmetic that shared/core/RULES.md defines.</summary>
public sealed class EvaluatorTests
{
    private const int Least = int.MinValue;
    private const int Most = int.MaxValue;

    [Theory]
    [InlineData(BinaryOperator.Add, Most, 1, Least)]
    [InlineData(BinaryOperator.Subtract, Least, 1, Most)]
    [InlineData(BinaryOperator.Multiply, 0x10000, 0x10000, 0)]
    [InlineData(BinaryOperator.Divide, -7, 2, -3)]
    [InlineData(BinaryOperator.Divide, 7, 0, 0)]
    [InlineData(BinaryOperator.Divide, Least, -1, Least)]
    [InlineData(BinaryOperator.Remainder, -7, 2, -1)]
    [InlineData(BinaryOperator.Remainder, 7, -2, 1)]
    [InlineData(BinaryOperator.Remainder, 7, 0, 0)]
    [InlineData(BinaryOperator.Remainder, Least, -1, 0)]
    [InlineData(BinaryOperator.ShiftLeft, 1, 31, Least)]
    [InlineData(BinaryOperator.ShiftLeft, 1, 32, 0)]
    [InlineData(BinaryOperator.ShiftLeft, 1, -1, 0)]
    [InlineData(BinaryOperator.ShiftRight, -1, 31, -1)]
    [InlineData(BinaryOperator.ShiftRight, -1, 32, 0)]
    [InlineData(BinaryOperator.ShiftRight, -5, 1, -3)]
    [InlineData(BinaryOperator.AndAlso, 4, 8, 1)]
    [InlineData(BinaryOperator.OrElse, 0, 8, 1)]
    public void Every_result_is_defined(BinaryOperator operation, int a, int b, int expected) => Assert.Equal(expected, Arithmetic.Apply(operation, a, b));

    [Theory]
    [InlineData("s8", 0xFF, -1)]
    [InlineData("s12", 0x800, -2048)]
    [InlineData("u16", 0x12345, 0x2345)]
    [InlineData("s32", 0xFFFFFFFF, -1)]
    [InlineData("bits(w64, 60, 4)", Least, 0xF)]
    [InlineData("minus_one * 3", 0, -3)]
    [InlineData("clamp(5, 9, 7)", 0, 7)] // the upper limit wins
    [InlineData("2 + 3 * 4 % 5 << 1 & 0xF ^ 1 | 8", 0, 0b1001)]
    [InlineData("1 ? 2 : 0 ? 3 : 4", 0, 2)]
    [InlineData("10 - 4 - 3", 0, 3)]
    [InlineData("-3 & ~1", 0, -4)]
    public void Names_helpers_and_operators_give_their_values(string text, long all, int expected) => Assert.Equal(expected, Sample.Evaluate(text, all));

    [Fact]
    public void Modes_and_bytes_are_read()
    {
        Assert.Equal(1, Sample.Evaluate("mode == after_run", mode: 2));
        Assert.Equal(0, Sample.Evaluate("asleep == mode", mode: 2));
        var inputs = new Sample { Bytes = [1, 2, 4, 8, 16, 32, 64, 255] };
        Assert.Equal(255, Evaluator.Compile(Sample.Parse("byte(7)").Formula!.Root)(inputs));
        Assert.Equal(2 + 4 + 8, Evaluator.Compile(Sample.Parse("sum(1, 3)").Formula!.Root)(inputs));
        Assert.Equal(255 ^ 64, Evaluator.Compile(Sample.Parse("xor(6, 7)").Formula!.Root)(inputs));
    }

    [Theory]
    [InlineData("flag ? 1 : u8", 1, 1)]
    [InlineData("flag ? u8 : 2", 0, 2)]
    [InlineData("flag && u8", 0, 0)]
    [InlineData("flag || u8", 1, 1)]
    public void What_does_not_matter_is_not_read(string text, ulong flag, int expected)
    {
        var inputs = new Sample();
        inputs.Values["flag"] = flag; // reading u8 would fault
        Assert.Equal(expected, Evaluator.Compile(Sample.Parse(text).Formula!.Root)(inputs));
        inputs.Values["flag"] = 1 - flag;
        Assert.Throws<KeyNotFoundException>(() => Evaluator.Compile(Sample.Parse(text).Formula!.Root)(inputs));
    }
}
