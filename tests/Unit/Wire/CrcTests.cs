using CsCheck;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Wire;

public class CrcTests
{
    private static readonly Gen<CrcParameters> s_anyCrc =
        Gen.Select(Gen.Int[1, 64], Gen.ULong, Gen.ULong, Gen.ULong, Gen.Bool, Gen.Bool, (width, poly, init, xorOut, reflectIn, reflectOut) =>
        {
            ulong mask = ulong.MaxValue >> (64 - width);
            return new CrcParameters("any", width, poly & mask, init & mask, reflectIn, reflectOut, xorOut & mask);
        });

    public static TheoryData<string> CheckNames => [.. CrcVectors.CheckValues.Select(row => row.Crc.Name)];

    public static TheoryData<string, string, ulong> Examples
    {
        get
        {
            var data = new TheoryData<string, string, ulong>();
            foreach (var (name, input, result) in CrcVectors.Examples)
                data.Add(name, input, result);
            return data;
        }
    }

    // Sources: named per group in shared/vectors/crc.json.
    [Theory]
    [MemberData(nameof(CheckNames))]
    public void Gives_the_published_check_value(string name)
    {
        var (crc, check) = CrcVectors.CheckValues.Single(row => row.Crc.Name == name);

        Assert.Equal(check, Crc.Compute(crc, CrcVectors.CheckInput));
        Assert.Equal(check, PlainCrc.Compute(crc, CrcVectors.CheckInput));
    }

    // Sources: named per group in shared/vectors/crc.json.
    [Theory]
    [MemberData(nameof(Examples))]
    public void Gives_the_results_of_the_example_tables(string name, string input, ulong result)
    {
        var crc = CrcCatalogue.Find(name);

        Assert.NotNull(crc);
        Assert.Equal(result, Crc.Compute(crc, Convert.FromHexString(input)));
    }

    [Fact]
    public void The_tables_agree_with_division_bit_by_bit_for_any_parameters() =>
        Gen.Select(s_anyCrc, Gen.Byte.Array[0, 20]).Sample((crc, data) =>
            Assert.Equal(PlainCrc.Compute(crc, data), Crc.Compute(crc, data)));

    [Fact]
    public void Pieces_give_the_same_as_the_whole() =>
        Gen.Select(s_anyCrc, Gen.Byte.Array[0, 10], Gen.Byte.Array[0, 10]).Sample((crc, head, tail) =>
        {
            ulong register = Crc.Update(crc, Crc.Update(crc, Crc.Start(crc), head), tail);
            Assert.Equal(Crc.Compute(crc, [.. head, .. tail]), Crc.Finish(crc, register));
        });

    [Theory]
    [InlineData(0, 0x0, 0x0, 0x0)]
    [InlineData(65, 0x0, 0x0, 0x0)]
    [InlineData(8, 0x107, 0x0, 0x0)]
    [InlineData(8, 0x07, 0x100, 0x0)]
    [InlineData(8, 0x07, 0x0, 0x100)]
    public void Refuses_parameters_that_do_not_fit(int width, ulong poly, ulong init, ulong xorOut)
    {
        var crc = new CrcParameters("odd", width, poly, init, false, false, xorOut);

        Assert.False(crc.IsValid);
        Assert.Throws<ArgumentException>(() => Crc.Compute(crc, [1]));
    }
}
