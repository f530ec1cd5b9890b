using System.Numerics;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>A field that follows a received one: physical value · gain + add, as a fraction of whole numbers.</summary>
internal static class FollowBinder
{
    public const int MostBits = 32;

    public static FieldSource? Bind(MappingReader fieldReader, Field field, Bound bound)
    {
        var node = fieldReader.Optional("follow");
        var lostNode = fieldReader.Optional("lost");
        if (node is null)
        {
            if (lostNode is not null && !fieldReader.Has("formula"))
                bound.Diagnostics.Add(Codes.MissingKey, fieldReader.SpanOf("lost"), "'lost' needs 'follow' or a formula", "name the received field, or remove the line");
            return null;
        }
        var diagnostics = bound.Diagnostics;
        // A bare name stands for {from: name}.
        var reader = new MappingReader(node is ScalarNode ? new MappingNode([new MappingEntry(new ScalarNode("from", false, node.Span), node)], node.Span) : node, diagnostics, "'follow'");
        var fromNode = reader.Required("from", "name the received field: 'from: DriveSpeed.speed'");
        var gain = Scalars.Number(reader.Optional("gain"), diagnostics, "the gain") ?? 1;
        var add = Scalars.Number(reader.Optional("add"), diagnostics, "the addend") ?? 0;
        // Limits are physical; with a negative scale the least value has the highest raw one.
        var (lowest, highest) = field.Scale < 0 ? ("at most", "at least") : ("at least", "at most");
        var low = Limit(reader.Optional(lowest), field, diagnostics, FieldValues.Lowest(field));
        var high = Limit(reader.Optional(highest), field, diagnostics, FieldValues.Highest(field));
        if (low > high)
            diagnostics.Add(Codes.OutOfRange, reader.ValueSpan("at least"), "'at least' is above 'at most', so no value is left", "exchange them");
        var lag = LiveBinder.BindLag(reader, fieldReader, field, bound);
        reader.Done();
        if (lostNode is null)
            diagnostics.Add(Codes.MissingKey, fieldReader.SpanOf("follow"), $"'{field.Name}' needs a value for when the frame is lost", "add 'lost: <value>'");
        var lost = lostNode is ScalarNode scalar ? FieldValues.RawSigned(scalar, field, diagnostics) ?? 0 : 0;
        if (Scalars.Text(fromNode, diagnostics, "the received field") is not { } name)
            return null;
        if (ReceivedFields.Find(name, bound) is not var (received, index))
        {
            diagnostics.Add(Codes.UnknownReceived, fromNode!.Span, $"there is no received field '{Printable.Short(name)}'", Nearest.Mend(name, [.. ReceivedFields.Names(bound)], "received field"));
            return null;
        }
        var source = bound.Receives[received].Fields[index];
        if (source.Bits > MostBits || field.Bits > MostBits)
        {
            diagnostics.Add(Codes.OutOfRange, fieldReader.SpanOf("follow"), $"fields of more than {MostBits} bits cannot follow or be followed", "follow the part that matters with a narrower field");
            return null;
        }
        if (Fraction(source, field, gain, add) is not var (numerator, addend, denominator))
        {
            diagnostics.Add(Codes.OutOfRange, fieldReader.SpanOf("follow"), "the scales, gain and addend have too many digits to be computed exactly", "shorten gain or add");
            return null;
        }
        var follow = new FollowValue(received, index, numerator, addend, denominator, low, high, FieldValues.Mask(lost, field));
        return lag is var (delay, slew) ? new LiveValue(new Lag(follow, delay, slew)) : follow;
    }

    private static long Limit(SyntaxNode? node, Field field, DiagnosticBag diagnostics, long otherwise) =>
        node is ScalarNode scalar ? FieldValues.RawSigned(scalar, field, diagnostics) ?? otherwise : otherwise;

    // raw = ((rawIn · scaleIn + offsetIn) · gain + add − offset) / scale, as one fraction in lowest terms.
    private static (long Numerator, long Addend, long Denominator)? Fraction(Field source, Field field, decimal gain, decimal add)
    {
        var (gainN, gainD) = Exact(gain);
        var (scaleN, scaleD) = Exact(source.Scale);
        var (offsetN, offsetD) = Exact(source.Offset);
        var (addN, addD) = Exact(add);
        var (ownOffsetN, ownOffsetD) = Exact(field.Offset);
        var (ownScaleN, ownScaleD) = Exact(field.Scale);
        var factor = (N: scaleN * gainN * ownScaleD, D: scaleD * gainD * ownScaleN);
        var constant = Sum(Sum((offsetN * gainN, offsetD * gainD), (addN, addD)), (-ownOffsetN, ownOffsetD));
        constant = (constant.N * ownScaleD, constant.D * ownScaleN);
        var denominator = factor.D * constant.D;
        var numerator = factor.N * constant.D;
        var addend = constant.N * factor.D;
        if (denominator.Sign < 0)
            (numerator, addend, denominator) = (-numerator, -addend, -denominator);
        var common = BigInteger.GreatestCommonDivisor(BigInteger.GreatestCommonDivisor(numerator, addend), denominator);
        (numerator, addend, denominator) = (numerator / common, addend / common, denominator / common);
        // The intermediate value must stay well inside 64 bits.
        var most = (BigInteger.Abs(numerator) << MostBits) + BigInteger.Abs(addend) + denominator;
        return most < (BigInteger.One << 62) ? ((long)numerator, (long)addend, (long)denominator) : null;
    }

    private static (BigInteger N, BigInteger D) Sum((BigInteger N, BigInteger D) a, (BigInteger N, BigInteger D) b) => ((a.N * b.D) + (b.N * a.D), a.D * b.D);

    private static (BigInteger N, BigInteger D) Exact(decimal value)
    {
        var parts = decimal.GetBits(value);
        var digits = ((BigInteger)(uint)parts[2] << 64) | ((BigInteger)(uint)parts[1] << 32) | (uint)parts[0];
        var scale = (parts[3] >> 16) & 0xFF;
        return (value < 0 ? -digits : digits, BigInteger.Pow(10, scale));
    }
}
