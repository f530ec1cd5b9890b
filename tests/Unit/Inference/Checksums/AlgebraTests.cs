using CsCheck;
using Locum.Inference.Checksums;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Inference.Checksums;

/// <summary>The algebra under the search against plain definitions.</summary>
public sealed class AlgebraTests
{
    private static readonly Gen<ulong[]> s_polynomial = Gen.ULong.Array[3];

    // A divisor divides; what is left of both without it has no common factor, so it is the greatest.
    [Fact]
    public void The_greatest_common_divisor_is_found() => Gen.Select(s_polynomial, Gen.ULong, Gen.ULong).Check(1, 500, values =>
    {
        ulong common = values.Item3 | 1;
        ulong[] a = Times(values.Item1[..1], common);
        ulong[] b = Times([values.Item2 | 2], common);
        var divisor = a.ToArray();
        int degree = Gf2Polynomial.Gcd(divisor, b.ToArray(), 0);
        Assert.Equal(Gf2Polynomial.Degree(divisor), degree);
        Assert.True(Divides(divisor, degree, a) && Divides(divisor, degree, b), $"{values.Item1[0]:X} {values.Item2:X} {common:X}");
        Assert.True(degree >= Gf2Polynomial.Degree([common]));
        Assert.True(Divides([common, 0], Gf2Polynomial.Degree([common]), divisor));
    });

    [Fact]
    public void A_divisor_of_too_low_a_degree_is_given_up()
    {
        ulong[] a = [0b1011]; // x^3 + x + 1
        Assert.True(Gf2Polynomial.Gcd(a, [0b1101], 2) < 2); // x^3 + x^2 + 1 has no factor in common
        a = [0];
        Assert.Equal(3, Gf2Polynomial.Gcd(a, [0b1011], 3));
        Assert.Equal([0b1011UL], a);
    }

    // By definition: no relation among the rows' columns may leave a column of the set free.
    [Fact]
    public void Determined_columns_are_told_from_free_ones() => Gen.Select(Gen.Byte.Array[1, 9], Gen.Byte).Check(2, 2000, values =>
    {
        var basis = new BitBasis(1);
        foreach (byte row in values.Item1)
            basis.Add([row]);
        int[] columns = [.. Enumerable.Range(0, 8).Where(i => (values.Item2 >> i & 1) != 0)];
        if (columns.Length is 0)
            return;
        // Determined when every combination of rows that is zero outside is zero inside, too.
        bool determined = true;
        for (int choice = 0; choice < 1 << values.Item1.Length; choice++)
        {
            int sum = 0;
            for (int i = 0; i < values.Item1.Length; i++)
                sum ^= (choice >> i & 1) * values.Item1[i];
            determined &= (sum & ~values.Item2) != 0 || (sum & values.Item2) is 0;
        }

        Assert.Equal(determined, basis.Determines(columns));
    });

    [Fact]
    public void Linear_systems_are_solved() => Gen.Select(Gen.ULong.Array[1, 64], Gen.ULong).Check(3, 500, values =>
    {
        ulong target = Sum(values.Item1, values.Item2);
        Assert.Equal(target, Sum(values.Item1, LinearSolver.Solve(values.Item1, target)!.Value));
        Assert.Null(LinearSolver.Solve([0b01, 0b01], 0b10));
    });

    // Crc.Compute is checked against published values in tests/Unit/Wire.
    [Fact]
    public void A_fit_leaves_the_constant_that_the_parameters_add_up_to()
    {
        var random = new Random(4);
        foreach (var crc in CrcCatalogue.Entries.Select(e => e.Parameters))
        {
            var payload = new byte[16];
            random.NextBytes(payload);
            var place = new ChecksumPlace(32, crc.Width);
            var range = ByteRange.For(16, place)[0];
            var fit = new CrcFit(place, range, 1, crc.ReflectIn, crc.ReflectOut, new CrcTable(crc.Width, crc.Poly));
            ulong value = Crc.Compute(crc, [0x17, .. range.Bytes.Select(b => payload[b]), 0x5A]);
            for (int i = 0; i < crc.Width / 8; i++)
                payload[4 + i] = (byte)(value >> (8 * i));
            Assert.Equal(CrcConstant.Of(crc, [0x17], range.Bytes.Length, [0x5A]), fit.Residue(payload));
        }
    }

    // The value of 12 bits from bit 4 of byte 1 up, in both orders, as descriptions number them.
    [Theory]
    [InlineData(8, 8, false, 0x22)]
    [InlineData(12, 4, false, 0x2)]
    [InlineData(8, 16, false, 0x3322)]
    [InlineData(16, 16, true, 0x2233)]
    [InlineData(24, 32, true, 0x11223344)]
    public void Places_are_read_in_both_orders(int bit, int bits, bool big, ulong expected)
    {
        var place = new ChecksumPlace(bit, bits, big);
        byte[] payload = [0x11, 0x22, 0x33, 0x44];
        Assert.Equal(expected, place.Read(payload));
        ulong located = 0;
        for (int i = 0; i < bits; i++)
        {
            var (index, at) = place.Locate(i);
            located |= (ulong)(payload[index] >> at & 1) << i;
        }

        Assert.Equal(expected, located);
    }

    // Five independent differences of 8 bits each, against F times N rules: log10(F N) - 40 log10 2.
    [Fact]
    public void The_chance_of_a_false_hit_is_as_derived()
    {
        byte[][] payloads = [.. new[] { 0x00, 0x01, 0x02, 0x04, 0x08, 0x10, 0x1F, 0x03 }.Select(b => new byte[] { (byte)b, (byte)(b << 3), 0, 0 })];
        var crc = CrcCatalogue.Find("crc8-smbus")!;
        foreach (byte[] payload in payloads)
            payload[3] = (byte)(Crc.Compute(crc, payload.AsSpan(0, 3)) ^ 0x77);
        var set = PayloadSet.Of(Sent.Of(new CanId(1, false), payloads))[0];
        var place = new ChecksumPlace(24, 8);
        var fit = new CrcFit(place, ByteRange.For(4, place)[0], 0, false, false, new CrcTable(8, crc.Poly));
        var verified = Verified.Try(fit, set)!;
        var tally = new Tally();
        tally.Add(RuleFamily.Crc8, 1000);
        double expected = Math.Log10(tally.Families * 1000.0) - (40 * Math.Log10(2));
        Assert.Equal(expected, FalseHit.Log10(verified, new HitView(verified, set), tally, named: false, profile: false), 9);
    }

    private static ulong Sum(ulong[] columns, ulong choice)
    {
        ulong sum = 0;
        for (int i = 0; i < columns.Length; i++)
            sum ^= (choice >> i & 1) != 0 ? columns[i] : 0;
        return sum;
    }

    private static ulong[] Times(ulong[] polynomial, ulong factor)
    {
        var product = new ulong[polynomial.Length + 1];
        for (int bit = 0; bit < 64; bit++)
        {
            if ((factor >> bit & 1) is 0)
                continue;
            for (int w = 0; w < polynomial.Length; w++)
            {
                product[w] ^= polynomial[w] << bit;
                product[w + 1] ^= bit is 0 ? 0 : polynomial[w] >> (64 - bit);
            }
        }

        return product;
    }

    private static bool Divides(ulong[] divisor, int degree, ulong[] polynomial)
    {
        var rest = polynomial.ToArray();
        return degree >= 0 && Gf2Polynomial.Reduce(rest, Gf2Polynomial.Degree(rest), divisor, degree) < 0;
    }
}
