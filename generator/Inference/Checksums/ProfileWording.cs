using Locum.Protection;
using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>
/// Recognises the end-to-end profiles by layout, CRC and counter, and solves for their data IDs. Profiles 11A, 11C and
/// 22 put the same bytes as 1A, 1C and 2, which are named.
/// </summary>
internal static class ProfileWording
{
    private const int Effort = 1;
    private const int ByteBits = 8;
    private const double MostShare = 0.85;

    /// <summary>The profiles that give the same bytes, plausible ones first; empty when the layout is no profile's.</summary>
    public static IEnumerable<Wording> Of(CrcFit fit, ulong?[] constants, WordingContext context)
    {
        if (fit.Range.Plainness > 0 || fit.Range.OwnZero)
            return [];
        if (fit.ReflectIn)
            return fit.Place.Bits > 16 && fit.Place.BigEndian && fit.Classes is null ? FourOrSeven(fit, constants[0]!.Value, context) : [];
        return fit.ReflectOut ? [] : fit switch
        {
            { Place.Bits: 8, Poly: 0x1D, Behind: 0 } => One(fit, constants, context),
            { Place.Bits: 8, Poly: 0x2F, Behind: 1 } => Two(fit, constants, context),
            { Place.Bits: 16, Poly: 0x1021, Behind: 2, Classes: null } => FiveOrSix(fit, constants[0]!.Value, context),
            _ => [],
        };
    }

    private static IEnumerable<Wording> One(CrcFit fit, ulong?[] constants, WordingContext context)
    {
        if (CounterNibble(fit, context) is not { Highest: <= 14 } counter || context.Set.Length > Profile("1A").Most)
            yield break;
        var crc = CrcCatalogue.Find(Profile("1A").Crc)!;
        int payload = fit.Range.Bytes.Length;
        if (fit.Classes is { ByParity: true } classes)
        {
            if (classes.Counter == counter.Place && constants is [{ } even, { } odd])
                yield return Alternating(fit, crc, even, odd);
            yield break;
        }

        if (fit.Classes is not null)
            yield break;
        ulong constant = constants[0]!.Value;
        byte low = CrcConstant.SolveBytes(crc, payload, 1, 0, constant)![0];
        byte nibbleLow = Enumerable.Range(0, 256).Select(i => (byte)i).First(b => CrcConstant.Of(crc, [b, 0], payload, []) == constant);
        int sent = SentNibble(fit, context.Set);
        var nibble = Word(fit, "1C", (uint)((Math.Max(sent, 0) << ByteBits) | nibbleLow), counter.Place, crc, [new MixedLiteral(nibbleLow), new MixedLiteral(0)], []);
        if (sent > 0)
            yield return nibble;
        yield return Both(fit, crc, constant, counter.Place, context.Id);
        if (sent is 0)
            yield return nibble;
        yield return Word(fit, "1 low", low, counter.Place, crc, [new MixedLiteral(low)], []);
    }

    // Two bytes lead to 8 bits: for every high byte there is a low one. The identifier is the customary data ID.
    private static Wording Both(CrcFit fit, CrcParameters crc, ulong constant, ChecksumPlace counter, CanId id)
    {
        int payload = fit.Range.Bytes.Length;
        bool Leads(uint data) => CrcConstant.Of(crc, [(byte)data, (byte)(data >> ByteBits)], payload, []) == constant;
        uint own = id.Value & 0xFFFF;
        uint chosen = Leads(own) ? own : (uint)Enumerable.Range(0, 256).First(low => Leads((uint)low));
        var open = new Caution(CautionKind.DataIdOpen, "256 data IDs, one for each high byte, give the same bytes at this length");
        return Word(fit, "1A", chosen, counter, crc, [new MixedLiteral((byte)chosen), new MixedLiteral((byte)(chosen >> ByteBits))], [open]);
    }

    private static Wording Alternating(CrcFit fit, CrcParameters crc, ulong even, ulong odd)
    {
        int payload = fit.Range.Bytes.Length;
        byte low = CrcConstant.SolveBytes(crc, payload, 1, 0, even)![0];
        byte high = CrcConstant.SolveBytes(crc, payload, 1, 0, odd)![0];
        var place = fit.Classes!.Counter;
        byte?[] table = [.. Enumerable.Range(0, 16).Select(c => (byte?)(c % 2 is 0 ? low : high))];
        return Word(fit, "1B", (uint)((high << ByteBits) | low), place, crc, [new MixedSecret(place, table)], []);
    }

    private static IEnumerable<Wording> Two(CrcFit fit, ulong?[] constants, WordingContext context)
    {
        var profile = Profile("2");
        if (fit.Classes is { ByParity: true } || context.Set.Length > profile.Most || CounterNibble(fit, context) is not { } counter)
            yield break;
        if (fit.Classes is { } classes && classes.Counter != counter.Place)
            yield break;
        var crc = CrcCatalogue.Find(profile.Crc)!;
        var table = new byte?[E2EProfile.ListLength];
        for (int value = 0; value < table.Length; value++)
        {
            ulong? constant = fit.Classes is null ? constants[0] : constants[value];
            if (constant is { } known)
                table[value] = CrcConstant.SolveBytes(crc, fit.Range.Bytes.Length, 0, 1, known)![0];
        }

        var statement = CrcWording.Statement(fit, crc, true, [], [new MixedSecret(counter.Place, table)]);
        yield return new Wording(statement, Effort, false)
        {
            Protect = new ProtectStatement(profile, fit.Place.FirstByte, [.. table.Select(b => (uint?)b)], counter.Place),
            Cautions = CrcWording.Open(table),
        };
    }

    private static IEnumerable<Wording> FiveOrSix(CrcFit fit, ulong constant, WordingContext context)
    {
        bool six = fit.Place.BigEndian;
        var profile = Profile(six ? "6" : "5");
        int offset = fit.Place.FirstByte;
        var counter = new ChecksumPlace((offset + (six ? 4 : 2)) * ByteBits, ByteBits);
        if (!context.Counters.Any(c => c.Place == counter))
            yield break;
        var set = context.Set;
        if (six && Same(set, BigEndian(offset + 2, 2)) != (ulong)set.Length)
            yield break;
        var crc = CrcCatalogue.Find(profile.Crc)!;
        if (CrcConstant.SolveBytes(crc, fit.Range.Bytes.Length, 0, 2, constant) is not [var first, var second])
            yield break;
        uint id = six ? (uint)((first << ByteBits) | second) : (uint)((second << ByteBits) | first);
        var statement = CrcWording.Statement(fit, crc, true, [], [new MixedLiteral(first), new MixedLiteral(second)]);
        yield return new Wording(statement, Effort, false) { Protect = new ProtectStatement(profile, offset, [id], counter) };
    }

    // Length, counter and data ID stand in the payload; nothing is solved.
    private static IEnumerable<Wording> FourOrSeven(CrcFit fit, ulong constant, WordingContext context)
    {
        bool seven = fit.Place.Bits is 64;
        var profile = Profile(seven ? "7" : "4");
        var crc = CrcCatalogue.Find(profile.Crc)!;
        int offset = fit.Place.FirstByte - (seven ? 0 : 8);
        if (fit.Poly != crc.Poly || offset < 0 || CrcConstant.Of(crc, [], fit.Range.Bytes.Length, []) != constant)
            yield break;
        int bytes = seven ? 4 : 2;
        int header = seven ? offset + 8 : offset;
        if (header + (2 * bytes) + 4 > context.Set.Length)
            yield break;
        var length = BigEndian(header, bytes);
        var id = BigEndian(header + (2 * bytes), 4);
        if (Same(context.Set, length) != (ulong)context.Set.Length || Same(context.Set, id) is not { } data)
            yield break;
        var counter = BigEndian(header + bytes, bytes);
        yield return new Wording(CrcWording.Statement(fit, crc, true, [], []), 0, true)
        {
            Protect = new ProtectStatement(profile, offset, [(uint)data], counter),
        };
    }

    private static ChecksumPlace BigEndian(int first, int bytes) => new((first + bytes - 1) * ByteBits, bytes * ByteBits, true);

    // The value that all but a few payloads share.
    private static ulong? Same(PayloadSet set, ChecksumPlace place)
    {
        var values = Enumerable.Range(0, set.Distinct).GroupBy(i => place.Read(set[i])).MaxBy(g => g.Count())!;
        return values.Count() >= MostShare * set.Distinct ? values.Key : null;
    }

    private static CounterField? CounterNibble(CrcFit fit, WordingContext context)
    {
        var place = new ChecksumPlace((fit.Place.FirstByte + 1) * ByteBits, 4);
        foreach (var counter in context.Counters)
        {
            if (counter.Place == place)
                return counter;
        }

        return null;
    }

    // The high nibble beside the counter when it never changes, otherwise -1.
    private static int SentNibble(CrcFit fit, PayloadSet set) =>
        Same(set, new ChecksumPlace(((fit.Place.FirstByte + 1) * ByteBits) + 4, 4)) is { } nibble ? (int)nibble : -1;

    private static Wording Word(
        CrcFit fit, string profile, uint id, ChecksumPlace counter, CrcParameters crc, IReadOnlyList<MixedByte> before, IReadOnlyList<Caution> cautions) =>
        new(CrcWording.Statement(fit, crc, true, before, []), Effort, false)
        {
            Protect = new ProtectStatement(Profile(profile), fit.Place.FirstByte, [id], counter),
            Cautions = cautions,
        };

    private static E2EProfile Profile(string name) => E2EProfile.Find(name)!;
}
