using System.Globalization;
using System.Text;
using CsCheck;
using Locum.Capture;
using Locum.Model;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Capture;

/// <summary>Numbers, times and bytes in text, against the class library of .NET.</summary>
public sealed class TextPartsTests
{
    private static readonly string[] s_hex = ["0123456789abcdef", "0123456789ABCDEF"];

    [Fact]
    public void Digits_are_decoded_up_to_the_first_that_is_none() => Gen.Select(Gen.Int[0, 1], Gen.Int[0, 15].Array[16], Gen.Int[0, 16], Gen.Char[' ', '/']).Sample(
        (letters, values, count, other) =>
        {
            string text = string.Concat(values.Take(count).Select(v => s_hex[letters][v])) + other + "00000000000000000";
            var bytes = new byte[8];
            Assert.Equal(Math.Min(count, 16), Digits.Decode(Encoding.ASCII.GetBytes(text), bytes));
            Assert.Equal(Convert.FromHexString(text[..(count / 2 * 2)]), bytes[..(count / 2)]);
            if (count % 2 is 1)
                Assert.Equal(values[count - 1], bytes[count / 2] >> 4);
        });

    [Fact]
    public void Spaced_bytes_are_decoded_up_to_the_first_that_is_none() => Gen.Select(Gen.Byte.Array[0, 8], Gen.OneOf(' ', ',', ';', '-')).Sample(
        (data, between) =>
        {
            string text = string.Join(between, data.Select(b => b.ToString("X2", CultureInfo.InvariantCulture))) + "\n" + new string(' ', 24);
            var bytes = new byte[8];
            Assert.Equal(data.Length, Digits.DecodeSpaced(Encoding.ASCII.GetBytes(text), bytes));
            Assert.Equal(data, bytes[..data.Length]);
        });

    [Fact]
    public void Up_to_eight_decimal_digits_are_read_at_once() => Gen.Select(Gen.Int[1, 8], Gen.Int[0, 99_999_999]).Sample(
        (count, value) =>
        {
            string text = (value % (int)Math.Pow(10, count)).ToString($"D{count}", CultureInfo.InvariantCulture);
            ulong word = BitConverter.ToUInt64(Encoding.ASCII.GetBytes(text.PadRight(8, 'x')));
            Assert.Equal(int.Parse(text, CultureInfo.InvariantCulture), Digits.Decimal(word, count));
            for (int i = 0; i < count; i++)
            {
                foreach (char wrong in "/:A \0\u00FF")
                    Assert.Equal(-1, Digits.Decimal((word & ~(0xFFul << (8 * i))) | ((ulong)wrong << (8 * i)), count));
            }
        },
        iter: 300);

    [Fact]
    public void Decimal_times_are_exact() => Gen.Select(Gen.Bool, Gen.Long[0, 9_000_000_000], Gen.Int[0, 999_999_999], Gen.Int[0, 9]).Sample(
        (negative, whole, fraction, digits) =>
        {
            string part = fraction.ToString("D9", CultureInfo.InvariantCulture)[..digits];
            string text = $"{(negative ? "-" : "")}{whole}{(digits > 0 ? "." : "")}{part}";
            long expected = (long)(decimal.Parse(text, CultureInfo.InvariantCulture) * 1_000_000_000m);
            Assert.Equal(expected, TimeText.Seconds(Encoding.ASCII.GetBytes(text)));
            Assert.Equal(expected, TimeText.Number(Encoding.ASCII.GetBytes(text.Replace('.', ',')), 1_000_000_000, (byte)','));
        });

    [Theory]
    [InlineData("1.5e3", 1_500_000_000_000L)]
    [InlineData("15E-1", 1_500_000_000L)]
    [InlineData(".5", 500_000_000L)]
    [InlineData("0.0000000019", 1L)]
    [InlineData("1.23456789012345678901234567890", 1_234_567_890L)]
    [InlineData("+2", 2_000_000_000L)]
    [InlineData("", null)]
    [InlineData(".", null)]
    [InlineData("1.2.3", null)]
    [InlineData("12a", null)]
    [InlineData("1e", null)]
    [InlineData("99999999999999999999", null)]
    public void Odd_decimal_times(string text, long? ns) => Assert.Equal(ns, TimeText.Seconds(Encoding.ASCII.GetBytes(text)));

    [Theory]
    [InlineData("12:34:56.789", 45_296_789_000_000L)]
    [InlineData("12:34:56,7", 45_296_700_000_000L)]
    [InlineData("12:34:56:789", 45_296_789_000_000L)]
    [InlineData("34:56.5", 2_096_500_000_000L)]
    [InlineData("0:00:01", 1_000_000_000L)]
    [InlineData("100:00:00", 360_000_000_000_000L)]
    [InlineData("12", null)]
    [InlineData("12:61:00", null)]
    [InlineData("12:34:56:78:9", null)]
    [InlineData("12:3a:56", null)]
    public void Times_of_day(string text, long? ns) => Assert.Equal(ns, ClockText.OfDay(Encoding.ASCII.GetBytes(text)));

    [Fact]
    public void Dates_are_days_since_1970() => Gen.Int[0, 60_000].Sample(days =>
    {
        var date = DateTime.UnixEpoch.AddDays(days);
        foreach (string form in (string[])["yyyy-MM-dd", "yyyy/MM/dd", "dd.MM.yyyy", "d/M/yyyy"])
            Assert.Equal(days, ClockText.Days(Encoding.ASCII.GetBytes(date.ToString(form, CultureInfo.InvariantCulture)), monthFirst: false));
        Assert.Equal(days, ClockText.Days(Encoding.ASCII.GetBytes(date.ToString("MM/dd/yyyy", CultureInfo.InvariantCulture)), monthFirst: true));
    });

    [Theory]
    [InlineData("2024-02-29T12:00:00Z")]
    [InlineData("2024-02-29T12:00:00.123456+02:00")]
    [InlineData("2024-02-29T12:00:00.5-0330")]
    [InlineData("2024-02-29 12:00:00.25")]
    public void Dates_with_times_agree_with_the_library(string text)
    {
        var expected = DateTimeOffset.Parse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal).UtcDateTime;
        Assert.Equal((expected - DateTime.UnixEpoch).Ticks * 100, ClockText.DateAndTime(Encoding.ASCII.GetBytes(text), monthFirst: false));
    }

    [Theory]
    [InlineData("0011AABB", "0011AABB")]
    [InlineData("00 11 aa bb", "0011AABB")]
    [InlineData("00-11-AA", "0011AA")]
    [InlineData("0x0011", "0011")]
    [InlineData("0x00 0x11", "0011")]
    [InlineData("[00, 11]", "0011")]
    [InlineData("0011 AABB", "0011AABB")]
    [InlineData("1 2 f", "01020F")]
    [InlineData("00:11:22", "001122")]
    [InlineData("12h 0Fh", "120F")]
    [InlineData("", "")]
    [InlineData("0011AAB", null)]
    [InlineData("00 GG", null)]
    [InlineData("hello", null)]
    public void Bytes_in_one_field(string text, string? hex)
    {
        var bytes = new byte[FdLengths.Most];
        int count = ByteText.Any(Encoding.ASCII.GetBytes(text), NumberBase.Hex, bytes);
        Assert.Equal(hex, count < 0 ? null : Convert.ToHexString(bytes, 0, count));
    }

    [Theory]
    [InlineData("0 17 255", "0011FF")]
    [InlineData("[1, 2, 3]", "010203")]
    [InlineData("256", null)]
    public void Decimal_bytes_in_one_field(string text, string? hex)
    {
        var bytes = new byte[FdLengths.Most];
        int count = ByteText.Any(Encoding.ASCII.GetBytes(text), NumberBase.Decimal, bytes);
        Assert.Equal(hex, count < 0 ? null : Convert.ToHexString(bytes, 0, count));
    }
}
