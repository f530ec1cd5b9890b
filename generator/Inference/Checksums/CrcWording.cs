using Locum.Wire;

namespace Locum.Inference.Checksums;

/// <summary>Finds the catalogue entry, the extra bytes or the numbers that explain the constants of a CRC.</summary>
internal static class CrcWording
{
    private const int CatalogueEffort = 0;
    private const int ExtraEffort = 2;
    private const int LiteralEffort = 3;
    private const int SolvedEffort = 4;

    // Named in AUTOSAR's specification of CRC routines; the usual choice on vehicle buses.
    private static readonly string[] s_library = ["crc8-sae-j1850", "crc8-autosar", "crc16-ibm-3740", "crc16-arc", "crc32-iso-hdlc", "crc32-autosar", "crc64-xz"];

    private static readonly Caution s_solved = new(
        CautionKind.SolvedConstant, "the start value or the bytes mixed in were solved from the frames; others give the same bytes at this length");

    /// <summary>All wordings, least effort first; at least one.</summary>
    public static IReadOnlyList<Wording> Of(CrcFit fit, ulong?[] constants, WordingContext context)
    {
        var wordings = new List<Wording>(ProfileWording.Of(fit, constants, context));
        if (fit.Classes is null)
            Constant(fit, constants[0]!.Value, context, wordings);
        else
            wordings.Add(Secret(fit, constants));
        return [.. wordings.OrderBy(w => w.Effort)];
    }

    /// <summary>The catalogue's entries for a polynomial, those of AUTOSAR's CRC library first, then those without start and final value.</summary>
    public static IReadOnlyList<CrcParameters> Entries(CrcFit fit) =>
    [
        .. CrcCatalogue.Entries.Select(e => e.Parameters)
            .Where(p => p.Width == fit.Place.Bits && p.Poly == fit.Poly && p.ReflectIn == fit.ReflectIn && p.ReflectOut == fit.ReflectOut)
            .OrderBy(p => s_library.Contains(p.Name) ? 0 : p is { Init: 0, XorOut: 0 } ? 1 : 2),
    ];

    private static void Constant(CrcFit fit, ulong constant, WordingContext context, List<Wording> wordings)
    {
        int payload = fit.Range.Bytes.Length;
        foreach (var entry in Entries(fit))
        {
            foreach (var with in ExtraBytes.Ordered(context.Id, fit.Behind))
            {
                if (CrcConstant.Of(entry, [], payload, CrcConstant.Values(with, context.Id, context.Set.Length)) == constant)
                    wordings.Add(new Wording(Statement(fit, entry, true, [], with), with.Length is 0 ? CatalogueEffort : ExtraEffort, true));
            }

            for (int count = 1; count <= 2 && fit.Behind is 0; count++)
            {
                foreach (var before in ExtraBytes.Ordered(context.Id, count))
                {
                    if (CrcConstant.Of(entry, CrcConstant.Values(before, context.Id, context.Set.Length), payload, []) == constant)
                        wordings.Add(new Wording(Statement(fit, entry, true, before, []), ExtraEffort, true));
                }
            }
        }

        if (Literal(fit, constant) is { } literal)
            wordings.Add(literal);
        if (LengthJoin.Solve(fit, constant, context) is { } joined)
            wordings.Add(new Wording(Statement(fit, joined, false, [], []), LiteralEffort, false));
        if (fit.Place.Bits <= 32)
            wordings.Add(Solved(fit, constant));
    }

    private static Wording? Literal(CrcFit fit, ulong constant)
    {
        if (fit.Behind is 0 || Entries(fit) is not [var entry, ..])
            return null;
        if (CrcConstant.SolveBytes(entry, fit.Range.Bytes.Length, 0, fit.Behind, constant) is not { } bytes)
            return null;
        var with = bytes.Select(b => (MixedByte)new MixedLiteral(b)).ToArray();
        return new Wording(Statement(fit, entry, true, [], with), LiteralEffort, false) { Cautions = [s_solved] };
    }

    // Start value 0, so that the final value is the constant itself; zero bytes behind only move the payload.
    private static Wording Solved(CrcFit fit, ulong constant)
    {
        var crc = Parameters(fit, constant);
        var with = Enumerable.Repeat((MixedByte)new MixedLiteral(0), fit.Behind).ToArray();
        return new Wording(Statement(fit, crc, false, [], with), SolvedEffort, false) { Cautions = [s_solved] };
    }

    private static Wording Secret(CrcFit fit, ulong?[] constants)
    {
        var classes = fit.Classes!;
        var entry = Entries(fit) is [var known, ..] ? known : Parameters(fit, 0);
        int before = fit.Behind is 0 ? 1 : 0;
        var table = new byte?[1 << classes.Counter.Bits];
        for (int value = 0; value < table.Length; value++)
        {
            if (constants[value & (classes.Count - 1)] is { } constant)
                table[value] = CrcConstant.SolveBytes(entry, fit.Range.Bytes.Length, before, 1 - before, constant)![0];
        }

        MixedByte[] secret = [new MixedSecret(classes.Counter, table)];
        var statement = Statement(fit, entry, CrcCatalogue.Find(entry.Name) is not null, before is 1 ? secret : [], before is 1 ? [] : secret);
        return new Wording(statement, LiteralEffort, false) { Cautions = Open(table) };
    }

    /// <summary>A caution when entries of a table were never seen.</summary>
    public static IReadOnlyList<Caution> Open(IReadOnlyList<byte?> table)
    {
        var missing = Enumerable.Range(0, table.Count).Where(v => table[v] is null).ToList();
        return missing.Count is 0 ? [] : [new Caution(CautionKind.SecretOpen, $"counter values never seen, their secret is unknown: {string.Join(", ", missing)}")];
    }

    /// <summary>A statement over the range of a fit.</summary>
    public static ChecksumStatement Statement(CrcFit fit, CrcParameters crc, bool named, IReadOnlyList<MixedByte> before, IReadOnlyList<MixedByte> with) =>
        new(fit.Place, new FoundCrc(crc, named), fit.Range.Bytes, before, with, fit.Range.OwnZero);

    private static CrcParameters Parameters(CrcFit fit, ulong xorOut) =>
        new($"crc{fit.Place.Bits} poly 0x{fit.Poly:X}", fit.Place.Bits, fit.Poly, 0, fit.ReflectIn, fit.ReflectOut, xorOut);
}
