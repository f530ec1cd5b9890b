using Locum.Tests.Unit.Simulation;
using Xunit;

namespace Locum.Tests.Regression.HighLimit;

/// <summary>A follower whose least value has 32 bits was compared with it in a variable of 31 bits and sign.</summary>
public sealed class HighLimitTests
{
    [Theory]
    [InlineData("at least: 2147483648", "00000080")]
    [InlineData("at least: 2147483647", "FFFFFF7F")]
    [InlineData("at least: 4294967295", "FFFFFFFF")]
    public void A_least_value_of_32_bits_is_kept(string limit, string data) =>
        new Scenario("""
            buses: {b: {rate: 1 Mbit/s}}
            receives: {R: {id: 0x014, fields: {f: {bit: 0, bits: 8}}}}
            frames: {A: {id: 0x200, length: 4, every: 100 ms, offset: 5 ms, fields: {v: {bit: 0, bits: 32, follow: {from: R.f, LIMIT}, lost: 0}}}}
            """.Replace("LIMIT", limit, StringComparison.Ordinal), "for: 5500 us\ntraffic: {b: [{id: 0x014, every: 100 ms, offset: 1 ms, data: 01}]}") { Frames = $"5000 0x200 {data}" }.Holds();
}
