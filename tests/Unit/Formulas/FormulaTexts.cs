namespace Locum.Tests.Unit.Formulas;

/// <summary>Draws formulas by lot.</summary>
internal sealed class FormulaTexts(int seed)
{
    private static readonly string[] s_names = ["flag", "u8", "s8", "s12", "u16", "s16", "u31", "s32", "Drive.speed", "lock"];
    private static readonly string[] s_numbers = ["0", "1", "2", "3", "7", "31", "32", "255", "0xFF", "0xF0", "0xFFFF", "40000", "1000000", "0b101", "2147483647", "0x80000000", "0xFFFFFFFF", "-1", "-2147483648"];
    private static readonly string[] s_binary = ["+", "-", "*", "/", "%", "<<", ">>", "&", "|", "^", "==", "!=", "<", "<=", ">", ">=", "&&", "||"];
    private static readonly string[] s_unary = ["-", "~", "!", "+"];

    private readonly Random _random = new(seed);

    /// <summary>A formula with parentheses around every part.</summary>
    public string Draw(int depth)
    {
        if (depth is 0)
            return _random.Next(5) is 0 ? Pick(s_numbers) : Leaf();
        return _random.Next(12) switch
        {
            0 => $"({Pick(s_unary)} {Draw(depth - 1)})",
            1 => $"({Draw(depth - 1)} ? {Draw(depth - 1)} : {Draw(depth - 1)})",
            2 => $"min({Draw(depth - 1)}, {Draw(depth - 1)})",
            3 => $"max({Draw(depth - 1)}, {Draw(depth - 1)})",
            4 => _random.Next(2) is 0 ? $"abs({Draw(depth - 1)})" : $"clamp({Draw(depth - 1)}, {Draw(depth - 1)}, {Draw(depth - 1)})",
            5 => $"bits({Draw(depth - 1)}, {_random.Next(16)}, {_random.Next(1, 17)})",
            6 => Leaf(),
            _ => $"({Draw(depth - 1)} {Pick(s_binary)} {Draw(depth - 1)})",
        };
    }

    /// <summary>A row of operands and operators without parentheses, defined in C as it is for 'int': divisors and shift counts are small numbers.</summary>
    public string DrawRow()
    {
        var text = Operand();
        var inCount = false;
        for (var left = _random.Next(2, 7); left > 0; left--)
        {
            var sign = Pick(s_binary);
            // Behind a shift, what binds closer still belongs to the count.
            while (inCount && sign is "-" or "/" or "%")
                sign = Pick(s_binary);
            inCount = sign is "<<" or ">>" || (inCount && sign is "+" or "*");
            text += $" {sign} {(inCount ? $"{_random.Next(3)}" : sign is "/" or "%" ? $"{_random.Next(1, 6)}" : Operand())}";
        }
        return _random.Next(4) is 0 ? $"{text} ? {Operand()} : {Operand()} ^ {Operand()}" : text;
    }

    private string Operand() => _random.Next(5) is 0 ? $"{Pick(s_unary)}{Pick(["u8", "s8"])}" : _random.Next(4) is 0 ? $"{_random.Next(9)}" : Pick(["flag", "u8", "s8", "lock"]);

    private string Leaf() => _random.Next(12) switch
    {
        0 => $"byte({_random.Next(8)})",
        1 => $"sum({_random.Next(4)}, {_random.Next(4, 8)})",
        2 => $"xor({_random.Next(4)}, {_random.Next(4, 8)})",
        3 => $"(mode {Pick(["==", "!="])} {Pick(["asleep", "running", "after_run"])})",
        4 => _random.Next(2) is 0 ? $"bits(w64, {_random.Next(33)}, {_random.Next(1, 32)})" : $"bits(w32, {_random.Next(16)}, {_random.Next(1, 17)})",
        5 => Pick(["id", "length", "minus_one"]),
        _ => Pick(s_names),
    };

    private string Pick(string[] words) => words[_random.Next(words.Length)];
}
