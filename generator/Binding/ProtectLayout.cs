using Locum.Model;
using Locum.Protection;
using Locum.Text;
using Locum.Wire;

namespace Locum.Binding;

/// <summary>Where a profile's parts stand in the payload, as fields.</summary>
/// <param name="ids">One data ID, or the list of 16.</param>
/// <param name="counter">Index of the profile's counter in the module.</param>
internal sealed class ProtectLayout(E2EProfile profile, IReadOnlyList<uint> ids, int offset, int length, int counter, Span span)
{
    public IReadOnlyList<Field> Fields() => profile.Kind switch
    {
        E2EKind.Profile4 => [Length(0, 2), Counter(2, 2), Id(4), Crc(8, bigEndian: true)],
        E2EKind.Profile5 => [Counter(2, 1), Crc(0, bigEndian: false)],
        E2EKind.Profile6 => [Length(2, 2), Counter(4, 1), Crc(0, bigEndian: true)],
        E2EKind.Profile7 => [Length(8, 4), Counter(12, 4), Id(16), Crc(0, bigEndian: true)],
        E2EKind.Nibble => [CounterNibble(), IdNibble(), Crc(0, bigEndian: false)],
        _ => [CounterNibble(), Crc(0, bigEndian: false)],
    };

    private Field Crc(int place, bool bigEndian)
    {
        var crc = CrcCatalogue.Find(profile.Crc)!;
        var bytes = crc.Width / 8;
        var own = Enumerable.Range(offset + place, bytes);
        var over = Enumerable.Range(0, length).Except(own).ToList();
        var checksum = new Checksum(new CrcRule(crc.Name, crc), over, Before(), Behind(), false, span);
        return Whole("protect crc", place, bytes, bigEndian, new ChecksumValue(checksum));
    }

    private ExtraByte[] Before() => profile.Kind switch
    {
        E2EKind.BothBytes => [IdByte(0), IdByte(1)],
        E2EKind.Alternating => [new SecretByte(counter, 0, [.. Enumerable.Range(0, (int)profile.LastCounter + 1).Select(c => (byte)(ids[0] >> (c % 2 * 8)))])],
        E2EKind.Nibble => [IdByte(0), new LiteralByte(0)],
        E2EKind.LowByte => [IdByte(0)],
        _ => [],
    };

    private ExtraByte[] Behind() => profile.Kind switch
    {
        E2EKind.List => [new SecretByte(counter, 0, [.. ids.Select(id => (byte)id)])],
        E2EKind.Profile5 => [IdByte(0), IdByte(1)],
        E2EKind.Profile6 => [IdByte(1), IdByte(0)],
        _ => [],
    };

    private LiteralByte IdByte(int number) => new((byte)(ids[0] >> (8 * number)));

    private Field Length(int place, int bytes) => Whole("protect length", place, bytes, true, new FixedValue((ulong)length));

    private Field Counter(int place, int bytes) => Whole("protect counter", place, bytes, true, new CounterValue(counter));

    private Field Id(int place) => Whole("protect id", place, 4, true, new FixedValue(ids[0]));

    private Field CounterNibble() => Part("protect counter", (offset + 1) * 8, 4, false, new CounterValue(counter));

    private Field IdNibble() => Part("protect id", ((offset + 1) * 8) + 4, 4, false, new FixedValue(ids[0] >> 8));

    // A big-endian field is placed by its last byte.
    private Field Whole(string name, int place, int bytes, bool bigEndian, FieldSource source) =>
        Part(name, (offset + place + (bigEndian ? bytes - 1 : 0)) * 8, bytes * 8, bigEndian && bytes > 1, source);

    private Field Part(string name, int bit, int bits, bool bigEndian, FieldSource source) => new()
    {
        Name = name,
        Bit = bit,
        Bits = bits,
        BigEndian = bigEndian,
        Signed = false,
        Scale = 1,
        Offset = 0,
        Names = new Dictionary<string, long>(),
        Source = source,
        Span = span,
    };
}
