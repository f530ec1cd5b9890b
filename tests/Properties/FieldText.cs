using System.Globalization;
using System.Text;

namespace Locum.Tests.Properties;

/// <summary>Random fields of one frame; no bit is used twice.</summary>
internal sealed class FieldText(Dice dice, int length, IReadOnlyList<string> sentIn, IReadOnlyList<string> allModes, IReadOnlyList<DrawnCounter> shared)
{
    private const int Most = 7;
    private const int Attempts = 20;

    private readonly bool[] _taken = new bool[64];
    private readonly List<(string Name, DrawnCounter Counter)> _counters = [];
    private readonly List<string> _lines = [];

    public string Draw()
    {
        if (length is 0 || dice.Chance(10))
            return "";
        for (var i = dice.Between(1, Most); i > 0; i--)
            DrawField($"{dice.Pick("state", "Zähler", "data", "sum", "x y")} {i}");
        for (var i = dice.Between(0, 2); i > 0; i--)
            DrawChecksum($"{dice.Pick("guard", "check-", "extra")}{i}");
        return _lines.Count is 0 ? "" : "    fields:\n" + string.Concat(_lines);
    }

    private void DrawField(string name)
    {
        var bits = dice.Chance(60) ? dice.Between(1, 12) : dice.Between(1, 64);
        if (Place(bits) is not { } place)
            return;
        var text = new StringBuilder($"      {name}: {{bit: {place.Bit}, bits: {bits}{place.Order}");
        switch (dice.Between(0, 5))
        {
            case 0 or 1:
                AddCounter(name, bits, text);
                break;
            case 2:
                break;
            default:
                AddValue(bits, text);
                break;
        }
        _lines.Add(text.Append("}\n").ToString());
    }

    private void AddCounter(string name, int bits, StringBuilder text)
    {
        var most = bits >= 32 ? uint.MaxValue : (1u << bits) - 1;
        var fitting = shared.Where(c => c.Highest <= most).ToList();
        if (fitting.Count > 0 && dice.Chance(50))
        {
            var counter = dice.Pick(fitting);
            _counters.Add((name, counter));
            text.Append($", counter: {counter.Name}");
        }
        else
        {
            var own = DrawnCounter.Draw(dice, name, bits);
            _counters.Add((name, own));
            text.Append($", counter: {own.Text}");
        }
    }

    private void AddValue(int bits, StringBuilder text)
    {
        var signed = dice.Chance(30);
        if (signed)
            text.Append(", signed: yes");
        var (scale, offset) = dice.Chance(60) ? (1m, 0m) : (dice.Pick(0.5m, 0.1m, 0.01m, 0.25m, 2m, -0.5m), dice.Pick(0m, -40m, 12.5m));
        if (scale != 1)
            text.Append($", scale: {Number(scale)}, offset: {Number(offset)}, unit: \"{dice.Pick("km/h", "°C", "%", "*/")}\"");
        if (dice.Chance(50))
        {
            text.Append($", value: {Value()}");
            return;
        }
        var other = !allModes.Contains("other") && dice.Chance(50);
        var named = other ? dice.Some(sentIn, 0) : sentIn;
        var entries = named.Select(m => $"{m}: {Value()}").ToList();
        if (other)
            entries.Add($"other: {Value()}");
        text.Append($", value: {{{string.Join(", ", entries)}}}");

        string Value()
        {
            decimal raw = dice.Chance(30) ? (1UL << (bits - 1)) : dice.Bits(bits);
            if (signed && raw >= 1UL << (bits - 1))
                raw -= bits is 64 ? 18_446_744_073_709_551_616m : 1UL << bits;
            return Number((raw * scale) + offset);
        }
    }

    private void DrawChecksum(string name)
    {
        var rule = ChecksumText.DrawRule(dice, length);
        if (Place(rule.Bits) is not { } place)
            return;
        var own = place.Positions.Select(p => p / 8).ToHashSet();
        _lines.Add($"      {name}: {{bit: {place.Bit}, bits: {rule.Bits}{place.Order}, checksum: {ChecksumText.Draw(dice, rule.Text, length, own, _counters)}}}\n");
    }

    private (int Bit, string Order, List<int> Positions)? Place(int bits)
    {
        for (var attempt = 0; attempt < Attempts; attempt++)
        {
            var big = dice.Chance(40);
            var bit = dice.Between(0, (length * 8) - 1);
            var positions = new List<int>();
            for (var at = bit; positions.Count < bits; at = big && at % 8 is 7 ? at - 15 : at + 1)
                positions.Add(at);
            if (positions.Exists(p => p < 0 || p >= length * 8 || _taken[p]))
                continue;
            positions.ForEach(p => _taken[p] = true);
            return (bit, big ? ", order: big" : dice.Chance(20) ? ", order: little" : "", positions);
        }
        return null;
    }

    private static string Number(decimal value) => value.ToString(CultureInfo.InvariantCulture);
}
