namespace Locum.Formulas;

/// <summary>Turns a formula into a delegate.</summary>
public static class Evaluator
{
    /// <summary>A delegate that gives the formula's value for the inputs at hand. It never throws as long as the payload has the frame's length.</summary>
    public static Func<IFormulaInputs, int> Compile(FormulaNode node)
    {
        switch (node)
        {
            case ConstantNode { Value: var value }:
                return _ => value;
            case ReadNode { Symbol: var symbol }:
                return inputs => (int)symbol.Extend(inputs.Raw(symbol));
            case ModeNode mode:
                return inputs => (inputs.Mode == mode.Mode) == mode.Equal ? 1 : 0;
            case UnaryNode unary:
                var part = Compile(unary.Part);
                return inputs => Arithmetic.Apply(unary.Operator, part(inputs));
            case BinaryNode binary:
                return CompileBinary(binary);
            case ChoiceNode choice:
                var (condition, then, otherwise) = (Compile(choice.Condition), Compile(choice.Then), Compile(choice.Else));
                return inputs => condition(inputs) is not 0 ? then(inputs) : otherwise(inputs);
            case CallNode call:
                return CompileCall(call);
            case BitsNode bits:
                var whole = Compile(bits.Value);
                return inputs => Arithmetic.Bits(whole(inputs), bits.From, bits.Count);
            case WideBitsNode wide:
                return inputs => Arithmetic.Bits(wide.Symbol.Extend(inputs.Raw(wide.Symbol)), wide.From, wide.Count);
            case BytesNode bytes:
                return inputs => Bytes(bytes, inputs.Payload);
            default:
                throw new ArgumentOutOfRangeException(nameof(node));
        }
    }

    private static Func<IFormulaInputs, int> CompileBinary(BinaryNode binary)
    {
        var (left, right, operation) = (Compile(binary.Left), Compile(binary.Right), binary.Operator);
        return operation switch
        {
            BinaryOperator.AndAlso => inputs => left(inputs) is not 0 && right(inputs) is not 0 ? 1 : 0,
            BinaryOperator.OrElse => inputs => left(inputs) is not 0 || right(inputs) is not 0 ? 1 : 0,
            _ => inputs => Arithmetic.Apply(operation, left(inputs), right(inputs)),
        };
    }

    private static Func<IFormulaInputs, int> CompileCall(CallNode call)
    {
        var arguments = call.Arguments.Select(Compile).ToArray();
        return call.Function switch
        {
            FormulaFunction.Min => inputs => Math.Min(arguments[0](inputs), arguments[1](inputs)),
            FormulaFunction.Max => inputs => Math.Max(arguments[0](inputs), arguments[1](inputs)),
            FormulaFunction.Abs => inputs => Arithmetic.Abs(arguments[0](inputs)),
            FormulaFunction.Clamp => inputs => Arithmetic.Clamp(arguments[0](inputs), arguments[1](inputs), arguments[2](inputs)),
            _ => throw new ArgumentOutOfRangeException(nameof(call)),
        };
    }

    private static int Bytes(BytesNode bytes, ReadOnlySpan<byte> payload)
    {
        var value = 0;
        foreach (var b in payload[bytes.First..(bytes.Last + 1)])
            value = bytes.Function is FormulaFunction.Xor ? value ^ b : value + b;
        return value;
    }
}
