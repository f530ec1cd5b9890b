using Locum.Diagnostics;

namespace Locum.Formulas;

/// <summary>Reports operations whose result is defined but rarely meant: division by zero, odd shift counts, overflow, values that do not fit.</summary>
internal sealed class RangeCheck(FormulaText source, DiagnosticBag diagnostics)
{
    public void Check(FormulaNode root, int bits, bool signed)
    {
        Visit(root, false);
        if (Interval.OfField(Math.Min(bits, signed ? 32 : 31), signed) is not { } field || (bits >= 32 && signed))
            return;
        var whole = source.At(root.Place);
        var kind = $"{(signed ? "a signed" : "an unsigned")} field of {bits} bit{(bits is 1 ? "" : "s")} ({field})";
        if (bits >= 32)
            (field, kind) = (new Interval(0, int.MaxValue), $"an unsigned field of {bits} bits");
        if (!root.Range.Meets(field))
            diagnostics.Add(Codes.FormulaFit, whole, $"the value {(root.Range.Only is { } only ? $"is always {only} and" : $"({root.Range})")} never fits {kind}", "correct the formula, or cut it on purpose: (…) & mask");
        else if (!root.Range.Within(field))
            diagnostics.Add(Codes.FormulaMayNotFit, whole, $"the value ({root.Range}) can leave {kind} and is cut then", "limit it: clamp(…, lowest, highest), or cut it on purpose: (…) & mask");
    }

    /// <param name="cut">Only low bits of the value count, so overflow does not matter.</param>
    private void Visit(FormulaNode node, bool cut)
    {
        switch (node)
        {
            case ConstantNode { From: { } from }:
                Visit(from, cut);
                break;
            case BinaryNode binary:
                CheckBinary(binary, cut);
                break;
            case UnaryNode { Operator: UnaryOperator.Minus } minus when !cut && minus.Part.Range.Contains(int.MinValue):
                CheckOverflow(minus.Place, minus.Part.Range.Only is not null, "-");
                break;
            case CallNode { Function: FormulaFunction.Abs } abs when abs.Arguments[0].Range.Contains(int.MinValue):
                CheckOverflow(abs.Place, abs.Arguments[0].Range.Only is not null, "abs");
                break;
            default:
                break;
        }
        for (var i = 0; i < node.Parts.Count; i++)
            if (node is not ChoiceNode { Live: { } live } || i is 0 || node.Parts[i] == live)
                Visit(node.Parts[i], Cuts(node, i, cut));
    }

    // Whether overflow in a part changes only bits that do not count.
    private static bool Cuts(FormulaNode node, int part, bool cut) => node switch
    {
        BinaryNode { Operator: BinaryOperator.And } mask when (part is 0 ? mask.Right : mask.Left).Range.Low >= 0 => true,
        BinaryNode { Operator: BinaryOperator.Add or BinaryOperator.Subtract or BinaryOperator.Multiply or BinaryOperator.And or BinaryOperator.Or or BinaryOperator.Xor } => cut,
        BinaryNode { Operator: BinaryOperator.ShiftLeft } => cut && part is 0,
        UnaryNode { Operator: UnaryOperator.Minus or UnaryOperator.Complement } => cut,
        ChoiceNode => cut && part > 0,
        BitsNode => true,
        _ => false,
    };

    private void CheckBinary(BinaryNode node, bool cut)
    {
        var (left, right) = (node.Left.Range, node.Right.Range);
        switch (node.Operator)
        {
            case BinaryOperator.Divide or BinaryOperator.Remainder when right.Only is 0:
                diagnostics.Add(Codes.FormulaZero, source.At(node.SignPlace), "the right side is always 0", "divide by something else");
                break;
            case BinaryOperator.Divide or BinaryOperator.Remainder when node.Right.Truth is null:
                diagnostics.Add(Codes.FormulaMayBeZero, source.At(node.SignPlace), $"the right side ({right}) can be 0, the result is 0 then", "divide by max(…, 1), or by 'x == 0 ? 1 : x'");
                break;
            case BinaryOperator.ShiftLeft or BinaryOperator.ShiftRight when !right.Meets(new Interval(0, Arithmetic.MostShift)):
                diagnostics.Add(Codes.FormulaShift, source.At(node.SignPlace), $"the shift count ({right}) is never 0 to {Arithmetic.MostShift}, so the result is 0", "correct the count");
                return;
            case BinaryOperator.ShiftLeft or BinaryOperator.ShiftRight when !Ranges.InShift(right):
                diagnostics.Add(Codes.FormulaMayShift, source.At(node.SignPlace), $"the shift count ({right}) can leave 0 to {Arithmetic.MostShift}, the result is 0 then", $"limit it: '& {Arithmetic.MostShift}', or clamp(…, 0, {Arithmetic.MostShift})");
                break;
            default:
                break;
        }
        if (node.Operator is BinaryOperator.Divide && left.Contains(int.MinValue) && right.Contains(-1))
            CheckOverflow(node.SignPlace, left.Only is not null && right.Only is not null, "/");
        if (cut || node.Operator is not (BinaryOperator.Add or BinaryOperator.Subtract or BinaryOperator.Multiply or BinaryOperator.ShiftLeft))
            return;
        var exact = Ranges.Exact(node.Operator, left, right)!.Value;
        if (exact.Low < int.MinValue || exact.High > int.MaxValue)
            CheckOverflow(node.SignPlace, exact.Low > int.MaxValue || exact.High < int.MinValue, Operators.Sign(node.Operator));
    }

    private void CheckOverflow(Place place, bool always, string sign)
    {
        if (always)
            diagnostics.Add(Codes.FormulaWraps, source.At(place), $"the result of '{sign}' never fits 32 bits signed and wraps around", "correct the formula, or cut it on purpose: (…) & mask");
        else
            diagnostics.Add(Codes.FormulaMayWrap, source.At(place), $"the result of '{sign}' can leave 32 bits signed and wraps around then", "limit the values: clamp(…, lowest, highest), or cut the result on purpose: (…) & mask");
    }
}
