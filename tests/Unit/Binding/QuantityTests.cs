using Locum.Binding;
using Xunit;

namespace Locum.Tests.Unit.Binding;

public class QuantityTests
{
    [Theory]
    [InlineData("20 ms", 20_000L)]
    [InlineData("20ms", 20_000L)]
    [InlineData("20   ms", 20_000L)]
    [InlineData("0.5 s", 500_000L)]
    [InlineData("1.5 ms", 1_500L)]
    [InlineData("250 us", 250L)]
    [InlineData("250 \u00B5s", 250L)] // micro sign
    [InlineData("250 \u03BCs", 250L)] // Greek small mu
    [InlineData("10 min", 600_000_000L)]
    [InlineData("2 h", 7_200_000_000L)]
    [InlineData("0 ms", 0L)]
    [InlineData("0.001 ms", 1L)]
    [InlineData(".5 s", 500_000L)]
    [InlineData("1000000000 h", 3_600_000_000_000_000_000L)]
    [InlineData("0.0005 ms", null)] // no whole microsecond
    [InlineData("20", null)]
    [InlineData("ms", null)]
    [InlineData("", null)]
    [InlineData("-20 ms", null)]
    [InlineData("+20 ms", null)]
    [InlineData("1e3 ms", null)]
    [InlineData("1,5 ms", null)]
    [InlineData("1 000 ms", null)]
    [InlineData("20 MS", null)]
    [InlineData("20 kbit/s", null)]
    [InlineData("0x14 ms", null)]
    [InlineData("1.2.3 ms", null)]
    [InlineData("99999999999999999999999999999999 s", null)]
    public void Times_are_whole_microseconds(string text, long? expected) => Assert.Equal(expected, Quantity.TimeUs(text));

    [Theory]
    [InlineData("500 kbit/s", 500_000L)]
    [InlineData("33.333 kbit/s", 33_333L)]
    [InlineData("1 Mbit/s", 1_000_000L)]
    [InlineData("95238 bit/s", 95_238L)]
    [InlineData("500 k", null)]
    [InlineData("33.3333 kbit/s", null)]
    public void Rates_are_whole_bits_per_second(string text, long? expected) => Assert.Equal(expected, Quantity.Rate(text));

    [Theory]
    [InlineData("16 MHz", 16_000_000L)]
    [InlineData("32.768 kHz", 32_768L)]
    [InlineData("8 Hz", 8L)]
    [InlineData("8 mhz", null)]
    public void Frequencies_are_whole_hertz(string text, long? expected) => Assert.Equal(expected, Quantity.Frequency(text));

    [Theory]
    [InlineData("87.5 %", 875L)]
    [InlineData("80%", 800L)]
    [InlineData("87.55 %", null)]
    [InlineData("0.875", null)]
    public void Percentages_are_whole_permille(string text, long? expected) => Assert.Equal(expected, Quantity.Permille(text));

    [Theory]
    [InlineData("32 KiB", 32_768L)]
    [InlineData("1 MiB", 1_048_576L)]
    [InlineData("512 B", 512L)]
    [InlineData("32 KB", null)]
    public void Memory_is_whole_bytes(string text, long? expected) => Assert.Equal(expected, Quantity.Memory(text));

    [Theory]
    [InlineData("2 ohm", "2")]
    [InlineData("250 mohm", "0.25")]
    [InlineData("4.7kohm", "4700")]
    [InlineData("1 Mohm", "1000000")]
    [InlineData("1 Ohm", null)]
    [InlineData("4k7", null)]
    [InlineData("-2 ohm", null)]
    [InlineData("2", null)]
    public void Resistances_are_in_ohm(string text, string? expected) => Assert.Equal(expected, Quantity.Ohm(text)?.ToString());

    [Theory]
    [InlineData("A", "50 mA", "0.05")]
    [InlineData("A", "800 uA", "0.0008")]
    [InlineData("A", "2 A", "2")]
    [InlineData("V", "13.50 V", "13.5")]
    [InlineData("V", "250 mV", "0.25")]
    [InlineData("W", "250 mW", "0.25")]
    [InlineData("F", "2200 uF", "0.0022")]
    [InlineData("F", "2.2 mF", "0.0022")]
    [InlineData("m", "30 cm", "0.3")]
    [InlineData("m", "250 mm", "0.25")]
    [InlineData("mm2", "0.75 mm2", "0.75")]
    [InlineData("%", "0.5 %", "0.5")]
    [InlineData("degC", "85 degC", "85")]
    [InlineData("degC", "-40 degC", "-40")]
    [InlineData("degC", "--40 degC", null)]
    [InlineData("degC", "40 C", null)]
    [InlineData("A", "2 V", null)]
    [InlineData("V", "-4 V", null)]
    [InlineData("m", "3 m2", null)]
    [InlineData("F", "1e-3 F", null)]
    public void Electrical_quantities_are_in_base_units(string unit, string text, string? expected) => Assert.Equal(expected, (unit switch
    {
        "A" => Quantity.Ampere(text),
        "V" => Quantity.Volt(text),
        "W" => Quantity.Watt(text),
        "F" => Quantity.Farad(text),
        "m" => Quantity.Metre(text),
        "mm2" => Quantity.SquareMillimetre(text),
        "%" => Quantity.Percent(text),
        _ => Quantity.Celsius(text),
    })?.ToString());

    [Theory]
    [InlineData("0", 0L)]
    [InlineData("42", 42L)]
    [InlineData("-42", -42L)]
    [InlineData("0x2D1", 0x2D1L)]
    [InlineData("0X2d1", 0x2D1L)]
    [InlineData("-0x10", -16L)]
    [InlineData("007", 7L)]
    [InlineData("9223372036854775807", long.MaxValue)]
    [InlineData("9223372036854775808", null)]
    [InlineData("99999999999999999999999", null)]
    [InlineData("0x", null)]
    [InlineData("0x-1", null)]
    [InlineData("0xG", null)]
    [InlineData("1.0", null)]
    [InlineData("1e3", null)]
    [InlineData("+1", null)]
    [InlineData("--1", null)]
    [InlineData("-", null)]
    [InlineData("", null)]
    [InlineData(" 1", null)]
    [InlineData("1 ", null)]
    [InlineData("1_000", null)]
    [InlineData("٣", null)] // a digit of another script
    public void Integers_are_decimal_or_hexadecimal(string text, long? expected) => Assert.Equal(expected, Quantity.Integer(text));

    [Theory]
    [InlineData("21.5", "21.5")]
    [InlineData("-0.05", "-0.05")]
    [InlineData("2.5e-1", "0.25")]
    [InlineData("0x10", "16")]
    [InlineData("0xFFFFFFFFFFFFFFFF", "18446744073709551615")]
    [InlineData("18446744073709551615", "18446744073709551615")]
    [InlineData("-9223372036854775808", "-9223372036854775808")]
    [InlineData("1,5", null)]
    [InlineData("1e999", null)]
    [InlineData("NaN", null)]
    [InlineData("", null)]
    public void Numbers_are_decimal(string text, string? expected) =>
        Assert.Equal(expected is null ? null : decimal.Parse(expected), Quantity.Number(text));
}
