using System.Globalization;
using System.Text;

namespace Locum.Tests.Properties;

/// <summary>Random fields of one frame; no bit is used twice.</summary>
/// <param name="steadyUs">The frame's period when values can move with its releases, otherwise 0.</param>
/// <param name="inTurn">The frame sends pages or payloads in turn.</param>
internal sealed class FieldText(Dice dice, ModuleWorld module, DrawnFrame frame, IReadOnlyList<string> sentIn, IReadOnlyList<DrawnCounter> shared, long steadyUs, bool inTurn)
{
    private const int Most = 7;
    private const int MostPages = 4;
    private const int Attempts = 20;

    private readonly int _length = frame.Length;
    private readonly List<(string Name, DrawnCounter Counter)> _counters = [];
    private readonly List<FormulaName> _names = [.. module.Received.SelectMany(FormulaName.Of)];
    private readonly List<string> _changing = [];
    private bool[] _taken = new bool[frame.Length * 8];
    private List<string> _lines = [];
    private int _number;

    /// <summary>Fields of the frame itself that change with modes or received frames.</summary>
    public IReadOnlyList<string> Changing => _changing;

    public void Reserve(int firstByte, int bytes) => Array.Fill(_taken, true, firstByte * 8, bytes * 8);

    public string Draw(string indent)
    {
        _lines = [];
        if (_length is 0 || dice.Chance(10))
            return "";
        for (var i = dice.Between(1, _length > 8 ? 3 * Most : Most); i > 0; i--)
            DrawField($"{dice.Pick("state", "Zähler", "data", "sum", "x y")} {++_number}");
        for (var i = dice.Between(0, 2); i > 0; i--)
            DrawChecksum($"{dice.Pick("guard", "check-", "extra")}{++_number}");
        return _lines.Count is 0 ? "" : $"{indent}fields:\n{string.Concat(_lines.Select(l => $"{indent}  {l}\n"))}";
    }

    /// <summary>Payloads in turn, with fields beside those drawn before.</summary>
    public string DrawPages()
    {
        var count = dice.Between(2, MostPages);
        var then = dice.Chance(60) ? $"    then: {dice.Pick("repeat", "hold")}\n" : "";
        if (dice.Chance(30))
            return $"    payloads:\n{string.Concat(Enumerable.Range(0, count).Select(_ => $"      - {dice.Row(_length)}\n"))}{then}";
        var text = new StringBuilder("    pages:\n");
        var (taken, counters, names, changing) = (_taken, _counters.Count, _names.Count, _changing.Count);
        for (var page = 0; page < count; page++)
        {
            _taken = [.. taken];
            var fields = Draw("        ");
            text.Append(fields.Length is 0 || dice.Chance(50) ? $"      - base: {dice.Row(_length)}\n{fields}" : $"      - {fields.TrimStart()}");
            _counters.RemoveRange(counters, _counters.Count - counters);
            _names.RemoveRange(names, _names.Count - names);
            _changing.RemoveRange(changing, _changing.Count - changing);
        }
        return text + then;
    }

    /// <summary>Bits of a field, least significant first; they may leave the payload.</summary>
    public static IEnumerable<int> Positions(int bit, int bits, bool big)
    {
        for (var at = bit; bits > 0; bits--, at = big && at % 8 is 7 ? at - 15 : at + 1)
            yield return at;
    }

    public static string Number(decimal value) => value.ToString(CultureInfo.InvariantCulture);

    private void DrawField(string name)
    {
        var bits = dice.Chance(60) ? dice.Between(1, 12) : dice.Between(1, 64);
        if (Place(bits) is not { } place)
            return;
        var text = new StringBuilder($"{name}: {{bit: {place.Bit}, bits: {bits}{place.Order}");
        var value = new ValueText(dice, module, bits, steadyUs, sentIn);
        var formula = new FormulaLine(dice, _length, _names, module.Modes.Names);
        switch (dice.Between(0, 8))
        {
            case 0 or 1:
                AddCounter(name, bits, text);
                break;
            case 2:
                if (!inTurn)
                    _names.Add(new FormulaName(FormulaName.ToWord(name), bits, false, true, false));
                break;
            case 3 when value.Follow() is { } follow:
                text.Append(follow);
                Know(value.Changes, value.Signed);
                break;
            case 4 when value.Move() is { } move:
                text.Append(move);
                Know(false, value.Signed);
                break;
            case 5:
                var signed = dice.Chance(30);
                text.Append($"{(signed ? ", signed: yes" : "")}, formula: \"{formula.Draw()}\"{(formula.Listens ? ", lost: 0" : "")}");
                Know(false, signed);
                break;
            default:
                text.Append(value.Value());
                _names.Add(new FormulaName(FormulaName.ToWord(name), bits, value.Signed, !value.Changes, false));
                if (value.Changes)
                    _changing.Add(name);
                break;
        }
        _lines.Add(text.Append('}').ToString());

        void Know(bool changes, bool signed)
        {
            _names.Add(new FormulaName(FormulaName.ToWord(name), bits, signed, false, false));
            if (changes)
                _changing.Add(name);
        }
    }

    private void AddCounter(string name, int bits, StringBuilder text)
    {
        var most = bits >= 32 ? uint.MaxValue : (1u << bits) - 1;
        var fitting = shared.Where(c => c.Highest <= most).ToList();
        var counter = fitting.Count > 0 && dice.Chance(50) ? dice.Pick(fitting) : DrawnCounter.Draw(dice, name, bits);
        _counters.Add((name, counter));
        _names.Add(new FormulaName(FormulaName.ToWord(name), bits, false, false, false));
        text.Append($", counter: {(shared.Contains(counter) ? counter.Name : counter.Text)}");
    }

    private void DrawChecksum(string name)
    {
        if (dice.Chance(10))
        {
            var bits = dice.Between(2, Math.Min(32, _length * 8));
            if (Place(bits) is { } own)
                _lines.Add($"{name}: {{bit: {own.Bit}, bits: {bits}{own.Order}, checksum: {{rule: {{formula: \"{new FormulaLine(dice, _length, [.. _names.Where(n => !n.Received)], module.Modes.Names).Draw()}\"}}}}}}");
            return;
        }
        var rule = ChecksumText.DrawRule(dice, _length);
        if (Place(rule.Bits) is not { } place)
            return;
        var bytes = place.Positions.Select(p => p / 8).ToHashSet();
        _lines.Add($"{name}: {{bit: {place.Bit}, bits: {rule.Bits}{place.Order}, checksum: {ChecksumText.Draw(dice, rule.Text, _length, bytes, _counters)}}}");
    }

    private (int Bit, string Order, List<int> Positions)? Place(int bits)
    {
        for (var attempt = 0; attempt < Attempts; attempt++)
        {
            var big = dice.Chance(40);
            var bit = dice.Between(0, (_length * 8) - 1);
            var positions = Positions(bit, bits, big).ToList();
            if (positions.Exists(p => p < 0 || p >= _length * 8 || _taken[p]))
                continue;
            positions.ForEach(p => _taken[p] = true);
            return (bit, big ? ", order: big" : dice.Chance(20) ? ", order: little" : "", positions);
        }
        return null;
    }
}
