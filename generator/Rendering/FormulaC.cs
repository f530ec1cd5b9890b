using Locum.Formulas;

namespace Locum.Rendering;

/// <summary>
/// Formula → C expression of type int32_t (or one that converts to it without change). A plain operator stands where
/// ranges rule out overflow and undefined behaviour, a function of locum_formula.h elsewhere. Every value that is not a
/// constant is cast to int32_t where it is read, because int may have 16 bits.
/// </summary>
/// <param name="read">
/// C expression, without need of parentheses, behind a name: unsigned raw bits for a field of the frame, the value as
/// int32_t (int64_t for unsigned fields of 32 bits) for a received one.
/// </param>
/// <param name="modeName">C name of a mode by index; the mode itself is the variable "mode".</param>
public sealed class FormulaC(Func<FormulaSymbol, string> read, Func<int, string> modeName)
{
    /// <summary>The value as a C expression.</summary>
    public string Value(FormulaNode node)
    {
        switch (node)
        {
            case ConstantNode constant:
                return Number(constant);
            case ReadNode { Symbol: { Origin: FormulaOrigin.Received } symbol }:
                return read(symbol);
            case ReadNode { Symbol: { Signed: true } symbol }:
                return $"locum_sign_extend({read(symbol)}, {symbol.Bits})";
            case ReadNode own:
                return $"(int32_t){read(own.Symbol)}";
            case ModeNode or BinaryNode { Operator: BinaryOperator.AndAlso or BinaryOperator.OrElse } or UnaryNode { Operator: UnaryOperator.Not }:
                return $"locum_truth({Condition(node)})";
            case UnaryNode unary:
                return Unary(unary);
            case BinaryNode binary:
                return Operators.IsComparison(binary.Operator) ? $"locum_truth({Condition(node)})" : Binary(binary);
            case ChoiceNode { Live: { } live }:
                return Value(live);
            case ChoiceNode choice:
                // Two constants alone would be of type int, or one of them unsigned.
                var cast = choice is { Then: ConstantNode, Else: ConstantNode } ? "(int32_t)" : "";
                return $"{Inner(Condition(choice.Condition))} ? {cast}{Inner(Value(choice.Then))} : {Inner(Value(choice.Else))}";
            case CallNode call:
                return $"locum_{call.Function.ToString().ToLowerInvariant()}({string.Join(", ", call.Arguments.Select(Value))})";
            case BitsNode bits:
                return bits.Value.Range.Low >= 0 ? Slice(Atom(bits.Value), bits.From, bits.Count, bits.Value.Range.High) : $"locum_bits({Value(bits.Value)}, {bits.From}, {bits.Count})";
            case WideBitsNode wide:
                return $"(int32_t)({Slice(read(wide.Symbol), wide.From, wide.Count, long.MaxValue)})";
            case BytesNode { First: var first, Last: var last } when first == last:
                return $"(int32_t)data[{first}]";
            case BytesNode bytes:
                return $"(int32_t)locum_{bytes.Function.ToString().ToLowerInvariant()}(0, {(bytes.First is 0 ? "data" : $"&data[{bytes.First}]")}, {bytes.Last - bytes.First + 1})";
            default:
                throw new ArgumentOutOfRangeException(nameof(node));
        }
    }

    // True where the value is not 0.
    private string Condition(FormulaNode node) => node switch
    {
        ModeNode mode => Mode(mode),
        UnaryNode { Operator: UnaryOperator.Not, Part: var part } => IsTruth(part) ? $"!({Condition(part)})" : $"{Compared(part)} == 0",
        BinaryNode { Operator: BinaryOperator.AndAlso or BinaryOperator.OrElse, Left: var left, Right: var right } when left.Truth is not null || right.Truth is not null =>
            Condition(left.Truth is null ? left : right), // the other side changes nothing, or the whole would be a constant
        BinaryNode { Operator: BinaryOperator.AndAlso or BinaryOperator.OrElse } logic =>
            $"{Side(logic.Left, logic.Operator)} {Operators.Sign(logic.Operator)} {(logic.Right is ModeNode second && AsksMode(logic.Left, logic.Operator) ? Mode(second, hidden: true) : Side(logic.Right, logic.Operator))}",
        BinaryNode comparison when Operators.IsComparison(comparison.Operator) => $"{Compared(comparison.Left)} {Operators.Sign(comparison.Operator)} {Compared(comparison.Right)}",
        _ => $"{Compared(node)} != 0",
    };

    // Compilers mistrust two tests of one variable that exclude each other.
    private string Mode(ModeNode node, bool hidden = false) => $"{(hidden ? "locum_same(mode)" : "mode")} {(node.Equal ? "==" : "!=")} {modeName(node.Mode)}";

    // A chain of one operator asks for a mode.
    private static bool AsksMode(FormulaNode node, BinaryOperator chain) =>
        node is ModeNode || (node is BinaryNode logic && logic.Operator == chain && (AsksMode(logic.Left, chain) || AsksMode(logic.Right, chain)));

    private static bool IsTruth(FormulaNode node) =>
        node is ModeNode or UnaryNode { Operator: UnaryOperator.Not } || (node is BinaryNode binary && Operators.IsTruth(binary.Operator));

    // A chain of one operator needs no parentheses; comparisons bind closer than both.
    private string Side(FormulaNode node, BinaryOperator parent) =>
        node is BinaryNode { Operator: BinaryOperator.AndAlso or BinaryOperator.OrElse } logic && logic.Operator != parent ? $"({Condition(node)})" : Condition(node);

    // Compilers mistrust a complement that is compared.
    private string Compared(FormulaNode node) =>
        node is UnaryNode { Operator: UnaryOperator.Complement } or BinaryNode { Operator: BinaryOperator.Xor } ? $"locum_same({Value(node)})" : Atom(node);

    private string Unary(UnaryNode unary)
    {
        if (unary.Operator is UnaryOperator.Complement)
            return $"~{Atom(unary.Part)}";
        return unary.Part.Range.Contains(int.MinValue) ? $"locum_negate({Value(unary.Part)})" : $"-{Atom(unary.Part)}";
    }

    private string Binary(BinaryNode node)
    {
        if (!IsPlain(node))
            return $"locum_{Function(node.Operator)}({Value(node.Left)}, {Value(node.Right)})";
        // Sums and products read from the left without parentheses.
        var isSum = node.Operator is BinaryOperator.Add or BinaryOperator.Subtract;
        var left = isSum && node.Left is BinaryNode { Operator: BinaryOperator.Add or BinaryOperator.Subtract or BinaryOperator.Multiply } first && IsPlain(first) ? Binary(first) : Atom(node.Left);
        var right = isSum && node.Right is BinaryNode { Operator: BinaryOperator.Multiply } second && IsPlain(second) ? Binary(second) : Atom(node.Right);
        return $"{left} {Operators.Sign(node.Operator)} {right}";
    }

    // Whether the operator of C has a defined result that is the formula's, for all values that can occur.
    private static bool IsPlain(BinaryNode node)
    {
        var (left, right) = (node.Left.Range, node.Right.Range);
        switch (node.Operator)
        {
            case BinaryOperator.Add or BinaryOperator.Subtract or BinaryOperator.Multiply:
                return Ranges.Exact(node.Operator, left, right) is { Low: >= int.MinValue, High: <= int.MaxValue };
            case BinaryOperator.ShiftLeft:
                return left.Low >= 0 && Ranges.InShift(right) && Ranges.Exact(node.Operator, left, right) is { High: <= int.MaxValue };
            case BinaryOperator.ShiftRight:
                return left.Low >= 0 && Ranges.InShift(right);
            case BinaryOperator.Divide or BinaryOperator.Remainder:
                return node.Right.Truth is true && !(left.Contains(int.MinValue) && right.Contains(-1));
            default:
                return true;
        }
    }

    private static string Function(BinaryOperator operation) => operation switch
    {
        BinaryOperator.Add => "add",
        BinaryOperator.Subtract => "subtract",
        BinaryOperator.Multiply => "multiply",
        BinaryOperator.Divide => "divide",
        BinaryOperator.Remainder => "remainder",
        BinaryOperator.ShiftLeft => "shift_left",
        BinaryOperator.ShiftRight => "shift_right",
        _ => throw new ArgumentOutOfRangeException(nameof(operation)),
    };

    private string Atom(FormulaNode node) => Inner(Value(node));

    // Parentheses around everything that is more than a name, a number, a call or a cast of one of these.
    private static string Inner(string text) => text.StartsWith('-') || text.StartsWith('~') || HasOuterBlank(text) ? $"({text})" : text;

    private static bool HasOuterBlank(string text)
    {
        var depth = 0;
        foreach (var c in text)
        {
            depth += c is '(' ? 1 : c is ')' ? -1 : 0;
            if (c is ' ' && depth is 0)
                return true;
        }
        return false;
    }

    private static string Slice(string value, int from, int count, long most)
    {
        var shifted = from is 0 ? value : $"({value} >> {from})";
        return most >> from < 1L << count ? shifted : $"{shifted} & 0x{(1L << count) - 1:X}";
    }

    private static string Number(ConstantNode constant) => constant.Value switch
    {
        int.MinValue => "INT32_MIN",
        >= 0 and var value when constant.Hexadecimal => $"0x{value:X}",
        var value => $"{value}",
    };
}
