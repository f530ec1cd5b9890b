using Locum.Model;

namespace Locum.Reviewing;

/// <summary>A checksum as facts.</summary>
internal static class ChecksumFacts
{
    public static List<Fact> Of(Checksum checksum, Scope scope) =>
    [
        new("rule", Rule(checksum.Rule)),
        new("over", Say.List(Ranges(checksum.Over))),
        new("before", Say.List(checksum.Before.Select(e => Extra(e, scope)))),
        new("with", Say.List(checksum.With.Select(e => Extra(e, scope)))),
        new("own bits", checksum.OwnBitsZero ? "zero" : "as they are"),
    ];

    private static string Rule(ChecksumRule rule) => rule switch
    {
        SumRule sum => Plain(sum.Name, sum.Nibbles, sum.Start, sum.Complement),
        XorRule xor => Plain(xor.Name, xor.Nibbles, xor.Start, xor.Complement),
        CrcRule { Parameters: var p } crc => $"{crc.Name} ({p.Width} bits, poly 0x{p.Poly:X}, init 0x{p.Init:X}, reflect {Say.YesNo(p.ReflectIn)}/{Say.YesNo(p.ReflectOut)}, xor out 0x{p.XorOut:X})",
        FormulaRule formula => $"formula {formula.Formula.Text}",
        J1939Rule => rule.Name,
        _ => throw new InvalidOperationException($"no facts are known about {rule.GetType().Name}"),
    };

    private static string Plain(string name, bool nibbles, uint start, Complement complement) =>
        $"{name} ({(nibbles ? "nibbles" : "bytes")}, start {start}, complement {complement.ToString().ToLowerInvariant()})";

    private static string Extra(ExtraByte extra, Scope scope) => extra switch
    {
        LiteralByte literal => $"0x{literal.Value:X2}",
        IdentifierByte id => $"id byte {id.Number}",
        LengthByte => "length",
        SecretByte secret => $"secret {Say.Bytes(secret.Table)} from {secret.Lowest} on, by counter {CounterName(secret.Counter, scope)}",
        _ => throw new InvalidOperationException($"no facts are known about {extra.GetType().Name}"),
    };

    // A field's own counter is called after frame and field; the field's name is enough, and stays when the frame is renamed.
    private static string CounterName(int index, Scope scope) =>
        scope.Module.Frames.SelectMany(f => f.AllFields).FirstOrDefault(f => f.Source is CounterValue { Counter: var c } && c == index && SourceFacts.IsOwn(scope.Module.Counters[index], f))?.Name
            ?? scope.Counter(index);

    // 0, 1, 2, 4 → "0..2", "4"; other orders stay as they are.
    private static IEnumerable<string> Ranges(IReadOnlyList<int> bytes)
    {
        for (var i = 0; i < bytes.Count;)
        {
            var end = i;
            while (end + 1 < bytes.Count && bytes[end + 1] == bytes[end] + 1)
                end++;
            yield return end > i ? $"{bytes[i]}..{bytes[end]}" : $"{bytes[i]}";
            i = end + 1;
        }
    }
}
