using Locum.Inference;
using Locum.Inference.Payload;
using Locum.Inference.Timing;
using Locum.Inference.Values;
using Xunit;

namespace Locum.Tests.Unit.Inference;

/// <summary>Synthetic values: which bits belong together.</summary>
public sealed class BitGroupsTests
{
    private readonly Random _random = new(5);

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void A_word_that_wanders_is_one_field_in_its_byte_order(bool big)
    {
        int value = 0x1234;
        var groups = Of(3_000, data =>
        {
            value += _random.Next(9) - 4;
            (data[2], data[3]) = big ? ((byte)(value >> 8), (byte)value) : ((byte)value, (byte)(value >> 8));
        });

        Assert.Equal((big ? 24 : 16, big), (Assert.Single(groups).Bit, groups[0].BigEndian));
    }

    [Fact]
    public void A_state_beside_a_number_is_a_field_of_its_own()
    {
        int value = 7;
        int count = 0;
        var groups = Of(2_000, data =>
        {
            value = Math.Clamp(value + _random.Next(3) - 1, 0, 15);
            data[1] = (byte)(value | (count++ / 150 % 2 << 6));
        });

        Assert.Equal([8, 14], groups.Select(g => g.Bit));
    }

    [Fact]
    public void A_byte_that_is_different_each_time_is_one_field() =>
        Assert.Equal([new FieldPlace(40, 8)], Of(500, data => data[5] = (byte)_random.Next(256)));

    private static IReadOnlyList<FieldPlace> Of(int count, Action<byte[]> fill)
    {
        var series = new Synthetic().Every(0x100, count, 20_000, _ =>
        {
            var data = new byte[8];
            fill(data);
            return data;
        }).Series();
        return BitGroups.Of(BitActivity.Of(Payloads.Of(series, SteadyNumber.StepsByRun(series))), _ => true);
    }
}
