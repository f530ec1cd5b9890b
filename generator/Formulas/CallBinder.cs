using Locum.Diagnostics;

namespace Locum.Formulas;

/// <summary>Calls of helpers.</summary>
internal sealed class CallBinder(FormulaText source, IFormulaScope scope, DiagnosticBag diagnostics)
{
    /// <summary>The call, or null (and a finding).</summary>
    /// <param name="places">Places of the arguments.</param>
    /// <param name="bind">Binds an argument by number.</param>
    public FormulaNode? Bind(Place call, Place name, IReadOnlyList<Place> places, Func<int, FormulaNode?> bind)
    {
        var text = source.Of(name);
        if (FormulaFunctions.Find(text) is not var (function, usage, count))
        {
            diagnostics.Add(Codes.FormulaCall, source.At(name), $"there is no helper '{Printable.Short(text)}'", Nearest.Mend(text, FormulaFunctions.Names, "helper"));
            return null;
        }
        if (places.Count != count)
            return Refuse(call, $"'{text}' takes {count} value{(count is 1 ? "" : "s")}, not {places.Count}", $"write {usage}");
        if (function is FormulaFunction.Bits)
            return BindBits(call, places, bind);
        var arguments = Enumerable.Range(0, count).Select(bind).ToList();
        if (arguments.Contains(null))
            return null;
        return function is FormulaFunction.Byte or FormulaFunction.Sum or FormulaFunction.Xor
            ? BindBytes(call, function, places, [.. arguments.Select(a => a!.Range.Only)])
            : NodeFactory.Call(call, function, [.. arguments.Select(a => a!)]);
    }

    private FormulaNode? BindBytes(Place call, FormulaFunction function, IReadOnlyList<Place> places, IReadOnlyList<int?> numbers)
    {
        for (var i = 0; i < numbers.Count; i++)
        {
            if (numbers[i] is null)
                return Refuse(places[i], "the number of a payload byte is constant", "write a number");
            if (numbers[i] < 0 || numbers[i] >= scope.Length)
                return Refuse(places[i], $"the frame has no byte {numbers[i]}", scope.Length is 0 ? "the frame carries no data" : $"use bytes 0 to {scope.Length - 1}");
        }
        if (numbers[0] > numbers[^1])
            return Refuse(call, $"byte {numbers[0]} lies behind byte {numbers[^1]}", "name the lower byte first");
        return new BytesNode(call, function, numbers[0]!.Value, numbers[^1]!.Value);
    }

    private FormulaNode? BindBits(Place call, IReadOnlyList<Place> places, Func<int, FormulaNode?> bind)
    {
        // A name may stand for more bits here than elsewhere.
        var text = source.Of(places[0]);
        var wide = text.All(c => char.IsLetterOrDigit(c) || c is '_' or '.') && scope.Find(text) is { Later: false } symbol && NodeFactory.Read(places[0], symbol) is null ? symbol : null;
        var value = wide is null ? bind(0) : null;
        var (from, count) = (bind(1), bind(2));
        if (from is null || count is null || (wide is null && value is null))
            return null;
        var width = wide?.Bits ?? 32;
        if (count.Range.Only is not (>= 1 and <= 31 and var bits))
            return Refuse(places[2], "the number of bits is constant, 1 to 31", "write a number");
        if (from.Range.Only is not (>= 0 and var first) || first + bits > width)
            return Refuse(places[1], $"the lowest bit is constant, 0 to {width - bits} when {bits} bit{(bits is 1 ? "" : "s")} of {width} are taken", "write a number");
        return wide is null ? NodeFactory.Bits(call, value!, first, bits) : NodeFactory.WideBits(call, wide, first, bits);
    }

    private FormulaNode? Refuse(Place place, string message, string mend)
    {
        diagnostics.Add(Codes.FormulaCall, source.At(place), message, mend);
        return null;
    }
}
