using CsCheck;
using Locum.Parts;
using Xunit;

namespace Locum.Tests.Unit.Parts;

/// <summary>Against the tables of IEC 60063 as public lists repeat them.</summary>
public sealed class ESeriesTests
{
    private static readonly int[] s_e192 =
    [
        100, 101, 102, 104, 105, 106, 107, 109, 110, 111, 113, 114, 115, 117, 118, 120, 121, 123, 124, 126, 127, 129, 130, 132,
        133, 135, 137, 138, 140, 142, 143, 145, 147, 149, 150, 152, 154, 156, 158, 160, 162, 164, 165, 167, 169, 172, 174, 176,
        178, 180, 182, 184, 187, 189, 191, 193, 196, 198, 200, 203, 205, 208, 210, 213, 215, 218, 221, 223, 226, 229, 232, 234,
        237, 240, 243, 246, 249, 252, 255, 258, 261, 264, 267, 271, 274, 277, 280, 284, 287, 291, 294, 298, 301, 305, 309, 312,
        316, 320, 324, 328, 332, 336, 340, 344, 348, 352, 357, 361, 365, 370, 374, 379, 383, 388, 392, 397, 402, 407, 412, 417,
        422, 427, 432, 437, 442, 448, 453, 459, 464, 470, 475, 481, 487, 493, 499, 505, 511, 517, 523, 530, 536, 542, 549, 556,
        562, 569, 576, 583, 590, 597, 604, 612, 619, 626, 634, 642, 649, 657, 665, 673, 681, 690, 698, 706, 715, 723, 732, 741,
        750, 759, 768, 777, 787, 796, 806, 816, 825, 835, 845, 856, 866, 876, 887, 898, 909, 920, 931, 942, 953, 965, 976, 988,
    ];

    private static readonly int[] s_e96 =
    [
        100, 102, 105, 107, 110, 113, 115, 118, 121, 124, 127, 130, 133, 137, 140, 143, 147, 150, 154, 158, 162, 165, 169, 174,
        178, 182, 187, 191, 196, 200, 205, 210, 215, 221, 226, 232, 237, 243, 249, 255, 261, 267, 274, 280, 287, 294, 301, 309,
        316, 324, 332, 340, 348, 357, 365, 374, 383, 392, 402, 412, 422, 432, 442, 453, 464, 475, 487, 499, 511, 523, 536, 549,
        562, 576, 590, 604, 619, 634, 649, 665, 681, 698, 715, 732, 750, 768, 787, 806, 825, 845, 866, 887, 909, 931, 953, 976,
    ];

    private static readonly int[] s_e48 =
    [
        100, 105, 110, 115, 121, 127, 133, 140, 147, 154, 162, 169, 178, 187, 196, 205, 215, 226, 237, 249, 261, 274, 287, 301,
        316, 332, 348, 365, 383, 402, 422, 442, 464, 487, 511, 536, 562, 590, 619, 649, 681, 715, 750, 787, 825, 866, 909, 953,
    ];

    [Fact]
    public void Series_are_those_of_the_standard()
    {
        Assert.Equal(s_e192, ESeries.Decade(192));
        Assert.Equal(s_e96, ESeries.Decade(96));
        Assert.Equal(s_e48, ESeries.Decade(48));
        Assert.Equal("10 11 12 13 15 16 18 20 22 24 27 30 33 36 39 43 47 51 56 62 68 75 82 91", TwoDigits(24));
        Assert.Equal("10 12 15 18 22 27 33 39 47 56 68 82", TwoDigits(12));
        Assert.Equal("10 15 22 33 47 68", TwoDigits(6));

        static string TwoDigits(int series) => string.Join(' ', ESeries.Decade(series).Select(v => v / 10));
    }

    // Published lists of exceptions: eight values of E24, one of E192.
    [Fact]
    public void Irregular_values_are_kept()
    {
        Assert.Equal([270, 300, 330, 360, 390, 430, 470, 820], Irregular(24, 10));
        Assert.Equal([920], Irregular(192, 1));

        static IEnumerable<int> Irregular(int series, int step) =>
            ESeries.Decade(series).Where((v, i) => v != (int)Math.Round(100 / step * Math.Pow(10, i / (double)series)) * step);
    }

    [Theory]
    [InlineData(24, "0.01", "0.01")]
    [InlineData(24, "2.6", "2.7")]
    [InlineData(12, "9.5", "10")]
    [InlineData(12, "99", "100")]
    [InlineData(96, "1234", "1240")]
    [InlineData(6, "2700000", "2200000")]
    public void The_nearest_value_may_lie_in_the_next_decade(int series, string value, string expected) =>
        Assert.Equal(decimal.Parse(expected), ESeries.Nearest(series, decimal.Parse(value)));

    [Fact]
    public void Values_between_two_ends_are_those_of_every_decade() =>
        Assert.Equal([0.68m, 1m, 1.5m, 2.2m, 3.3m, 4.7m, 6.8m, 10m], ESeries.Between(6, 0.68m, 10.9m));

    [Fact]
    public void No_value_of_the_series_is_nearer_than_the_nearest_nor_between_the_least_and_what_was_asked() =>
        Gen.Select(Gen.Int[-2, 6], Gen.Double[1, 10], Gen.Int[0, 5]).Check(60063, 2_000, draw =>
        {
            var (exponent, digits, index) = draw;
            var series = ESeries.Known[index];
            var value = (decimal)(digits * Math.Pow(10, exponent));
            var all = ESeries.Between(series, value / 10, value * 10).ToList();
            Assert.Equal(all.Min(v => Math.Abs(v - value)), Math.Abs(ESeries.Nearest(series, value) - value));
            Assert.Equal(all.Where(v => v >= value).Min(), ESeries.AtLeast(series, value));
        });
}
