using Locum.Model;
using Locum.Wire;

namespace Locum.Rendering.Views;

internal static class ChecksumViews
{
    public static ChecksumView Of(Checksum checksum, Frame frame, string fieldC, IReadOnlyList<CounterView> counters)
    {
        var secrets = new List<SecretView>();
        var reads = new List<ReadView>();
        AddExtra(checksum.Before, frame, fieldC, counters, secrets, reads);
        AddPayload(checksum.Over, reads);
        AddExtra(checksum.With, frame, fieldC, counters, secrets, reads);
        switch (checksum.Rule)
        {
            case CrcRule crc:
                var table = new CrcTable(crc.Parameters);
                return new ChecksumView(table.Type, table.Function, table.C, table.Start, reads, secrets, Finish(table));
            case SumRule sum:
                return new ChecksumView("uint16_t", sum.Nibbles ? "locum_nibble_sum" : "locum_sum", "", $"{sum.Start}u", reads, secrets, Finish(sum.Complement));
            case J1939Rule:
                return new ChecksumView("uint16_t", "locum_sum", "", "0u", reads, secrets, "locum_fold_j1939(sum)");
            case XorRule xor:
                return new ChecksumView("uint16_t", xor.Nibbles ? "locum_nibble_xor" : "locum_xor", "", $"{xor.Start}u", reads, secrets, Finish(xor.Complement));
            default:
                throw new ArgumentOutOfRangeException(nameof(checksum));
        }
    }

    private static string Finish(CrcTable table)
    {
        var value = table.Shift > 0 ? $"(sum >> {table.Shift})" : "sum";
        if (table.Turned)
            value = $"locum_reflect({value}, {table.Width}u)";
        return table.HasXorOut ? $"({value} ^ {table.XorOut})" : value;
    }

    private static string Finish(Complement complement) => complement switch
    {
        Complement.Ones => "(uint16_t)~sum",
        Complement.Twos => "(uint16_t)(0u - sum)",
        _ => "sum",
    };

    private static void AddPayload(IReadOnlyList<int> over, List<ReadView> reads)
    {
        for (var first = 0; first < over.Count;)
        {
            var count = 1;
            while (first + count < over.Count && over[first + count] == over[first] + count)
                count++;
            reads.Add(new ReadView(over[first] is 0 ? "data" : $"&data[{over[first]}]", count, []));
            first += count;
        }
    }

    private static void AddExtra(IReadOnlyList<ExtraByte> extras, Frame frame, string fieldC, IReadOnlyList<CounterView> counters, List<SecretView> secrets, List<ReadView> reads)
    {
        if (extras.Count > 0)
            reads.Add(new ReadView("extra", extras.Count, [.. extras.Select(Text)]));

        string Text(ExtraByte extra)
        {
            switch (extra)
            {
                case LiteralByte literal:
                    return $"0x{literal.Value:X2}u";
                case IdentifierByte part:
                    return $"0x{(byte)(frame.Id.Value >> (8 * part.Number)):X2}u /* identifier */";
                case LengthByte:
                    return $"{frame.Length}u /* length */";
                case SecretByte secret:
                    var name = $"{fieldC}_secret{(secrets.Count is 0 ? "" : $"{secrets.Count + 1}")}";
                    secrets.Add(new SecretView(name, [.. secret.Table.Select(b => $"0x{b:X2}u")]));
                    var index = counters[secret.Counter].C + (secret.Lowest is 0 ? "" : $" - {secret.Lowest}u");
                    return $"LOCUM_ROM_U8({name}[{index}])";
                default:
                    throw new ArgumentOutOfRangeException(nameof(extras));
            }
        }
    }
}
