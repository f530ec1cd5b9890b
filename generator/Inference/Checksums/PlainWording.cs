namespace Locum.Inference.Checksums;

/// <summary>Finds the start value, the complement and the extra bytes that explain the constant of a plain rule.</summary>
internal static class PlainWording
{
    private const uint CarryModulus = 255;

    /// <summary>All wordings, least effort first; at least one.</summary>
    public static IReadOnlyList<Wording> Of(PlainFit fit, ulong constant, WordingContext context)
    {
        if (fit.Kind is PlainKind.CarrySum)
            return [Carry(fit, constant, context)];
        var sample = context.Set[FirstHit(fit, constant, context.Set)];
        var wordings = new List<Wording>();
        foreach (var rule in Rules(fit))
        {
            var extras = ExtraBytes.Unordered(context.Id, fit.Place.Bits);
            for (int i = 0; i < extras.Count; i++)
            {
                var statement = new ChecksumStatement(fit.Place, rule, fit.Range.Bytes, [], extras[i], fit.Range.OwnZero);
                if (statement.Holds(context.Id, sample))
                    wordings.Add(new Wording(statement, i is 0 ? 0 : 1 + (extras[i].Length is 1 ? 1 : 0), true));
            }
        }

        wordings.Add(Solved(fit, constant));
        return [.. wordings.OrderBy(w => w.Effort)];
    }

    /// <summary>Named rules of a kind, for counting hypotheses.</summary>
    public static IReadOnlyList<FoundRule> Rules(PlainFit fit)
    {
        bool nibbles = fit.Kind is PlainKind.NibbleSum or PlainKind.NibbleXor;
        if (fit.IsXor)
            return [new FoundXor(nibbles, 0, false), new FoundXor(nibbles, 0, true)];
        return fit.Negative
            ? [new FoundSum(nibbles, 0, SumFinish.Twos), new FoundSum(nibbles, 0, SumFinish.Ones)]
            : [new FoundSum(nibbles, 0, SumFinish.None)];
    }

    private static Wording Solved(PlainFit fit, ulong constant)
    {
        bool nibbles = fit.Kind is PlainKind.NibbleSum or PlainKind.NibbleXor;
        ulong mask = ulong.MaxValue >> (64 - fit.Place.Bits);
        FoundRule rule = fit.IsXor
            ? new FoundXor(nibbles, (uint)constant, false)
            : new FoundSum(nibbles, (uint)(fit.Negative ? (0 - constant) & mask : constant), fit.Negative ? SumFinish.Twos : SumFinish.None);
        return new Wording(new ChecksumStatement(fit.Place, rule, fit.Range.Bytes, [], [], fit.Range.OwnZero), 4, false)
        {
            Cautions = constant is 0 ? [] : [new Caution(CautionKind.SolvedConstant, "the start value was solved from the frames; extra bytes would do the same")],
        };
    }

    // Whether a remainder of 0 is sent as 0 or as 255 shows only in frames that have it; 255 is what adding the carry gives.
    private static Wording Carry(PlainFit fit, ulong constant, WordingContext context)
    {
        uint start = (uint)(fit.Negative ? (CarryModulus - constant) % CarryModulus : constant);
        bool zero = false;
        for (int i = 0; i < context.Set.Distinct; i++)
        {
            if (fit.Residue(context.Set[i]) == constant && fit.Place.Read(context.Set[i]) == (fit.Negative ? CarryModulus : 0))
                zero = true;
        }

        var statement = new ChecksumStatement(fit.Place, new FoundCarrySum(start, fit.Negative, zero), fit.Range.Bytes, [], [], fit.Range.OwnZero);
        return new Wording(statement, start is 0 ? 1 : 4, start is 0);
    }

    private static int FirstHit(PlainFit fit, ulong constant, PayloadSet set)
    {
        for (int i = 0; i < set.Distinct; i++)
        {
            if (fit.Residue(set[i]) == constant)
                return i;
        }

        throw new ArgumentException("no payload has the constant", nameof(constant));
    }
}
