using Locum.Inference;
using Locum.Model;
using Locum.Text;
using Xunit;

namespace Locum.Tests.Unit.Inference;

/// <summary>Places of findings against fields of descriptions, which are read by other code.</summary>
public sealed class FieldPlaceTests
{
    [Fact]
    public void A_place_reads_and_writes_what_a_field_of_a_description_does()
    {
        var random = new Random(7);
        var data = new byte[16];
        int inside = 0;
        for (int i = 0; i < 20_000; i++)
        {
            var place = new FieldPlace(random.Next(128), random.Next(1, 65), random.Next(2) is 1);
            var field = new Field { Name = "f", Bit = place.Bit, Bits = place.Bits, BigEndian = place.BigEndian, Signed = false, Scale = 1, Offset = 0, Names = new Dictionary<string, long>(), Span = Span.Start("") };
            bool fits = field.Positions().All(p => p is >= 0 and < 128);
            Assert.Equal(fits, place.IsInside(16));
            Assert.Equal(field.Positions(), place.Positions());
            if (!fits)
                continue;
            inside++;
            random.NextBytes(data);
            Assert.Equal(field.ReadBits(data), place.Read(data));
            ulong value = (ulong)random.NextInt64() & (ulong.MaxValue >> (64 - place.Bits));
            place.Write(data, value);
            Assert.Equal(value, place.Read(data));
        }
        Assert.True(inside > 5_000);
    }
}
