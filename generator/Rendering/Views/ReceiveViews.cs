using Locum.Binding;
using Locum.Model;
using Locum.Planning;

namespace Locum.Rendering.Views;

/// <summary>A row of the board's table of frames it listens to.</summary>
/// <param name="Macro">C name of the row's number.</param>
public sealed record ReceiveRowView(string Comment, string Macro, int Row, string Id, string Mask, long TimeoutUs, int Bus, int Length);

/// <summary>A C function that reads a received field.</summary>
/// <param name="Work">Unsigned type in which the bits are put together.</param>
/// <param name="Terms">C expressions over data, each with its bits in place.</param>
/// <param name="SignBit">The sign bit as a constant; empty for unsigned fields.</param>
public sealed record ReaderView(string Comment, string C, string Type, string Work, string Row, IReadOnlyList<string> Terms, string SignBit);

internal static class ReceiveViews
{
    public static string Macro(Module module, int received) =>
        $"RECEIVE_{Names.ToC(module.Name)}_{Names.ToC(module.Receives[received].Name)}".ToUpperInvariant();

    public static string There(Module module, int received) => $"locum_receive_states[{Macro(module, received)}].there";

    public static string Reader(Module module, int received, int field) =>
        $"read_{Names.ToC(module.Receives[received].Name)}_{Names.ToC(module.Receives[received].Fields[field].Name)}";

    public static IReadOnlyList<ReceiveRowView> Rows(BoardPlan plan)
    {
        var rows = new List<ReceiveRowView>();
        foreach (var planned in plan.Modules)
            for (var i = 0; i < planned.Module.Receives.Count; i++)
            {
                var received = planned.Module.Receives[i];
                var id = received.Id.Extended ? $"0x{received.Id.Value:X8}u | LOCUM_ID_EXTENDED" : $"0x{received.Id.Value:X3}u";
                var bus = planned.Buses[received.Bus];
                rows.Add(new ReceiveRowView(
                    CText.Comment($"{received.Name}: {(received.Mask is 0 ? "any frame" : received.Id.ToString())} on {plan.Buses[bus].Name}, {(received.TimeoutUs is { } t ? $"lost after {CText.Time(t)}" : "never lost")}"),
                    Macro(planned.Module, i), rows.Count, id, received.Mask is 0 ? "LOCUM_ID_EXTENDED" : $"0x{received.Mask:X8}u | LOCUM_ID_EXTENDED", received.TimeoutUs ?? 0, bus, received.Length));
            }
        return rows;
    }

    /// <summary>Readers for the fields that conditions and followers use, each once.</summary>
    public static IReadOnlyList<ReaderView> Readers(Module module)
    {
        var used = module.Modes.SelectMany(m => m.Exits).SelectMany(e => e.When)
            .Concat(module.Outputs.SelectMany(o => o.While).SelectMany(all => all)).OfType<FieldCondition>().Select(c => (c.Received, c.Field))
            .Concat(module.Frames.SelectMany(f => f.AllFields).Select(f => f.Source is LiveValue { Live: Lag lag } ? lag.Follow : f.Source).OfType<FollowValue>().Select(f => (f.Received, f.Field)))
            .Concat(FormulaViews.Received(module))
            .Distinct().Order();
        return [.. used.Select(u => ReaderOf(module, u.Received, u.Field))];
    }

    /// <summary>True if the field's raw values need more than an int32_t.</summary>
    public static bool IsWide(Field field) => !field.Signed && field.Bits > 31;

    private static ReaderView ReaderOf(Module module, int received, int index)
    {
        var field = module.Receives[received].Fields[index];
        var work = field.Bits <= 8 ? 8 : field.Bits <= 16 ? 16 : 32;
        return new ReaderView(
            CText.Comment($"{module.Receives[received].Name}.{field.Name}, bit {field.Bit}, {field.Bits} bits{(field.BigEndian ? ", big-endian" : "")}"),
            Reader(module, received, index),
            IsWide(field) ? "int64_t" : "int32_t",
            $"uint{work}_t",
            Macro(module, received),
            [.. Slices.Of(field, work).Select(s => Term(s, work))],
            field.Signed ? $"0x{1UL << (field.Bits - 1):X}u" : "");
    }

    private static string Term(Slice slice, int work)
    {
        var data = slice.Left > 0 ? $"(data[{slice.Byte}] >> {slice.Left})" : $"data[{slice.Byte}]";
        var bits = slice.Whole ? data : slice.Right > 0 ? $"({data} & {slice.Mask})" : $"{data} & {slice.Mask}";
        if (slice.Right is 0)
            return slice.Whole ? bits : $"({bits})";
        return $"(uint{work}_t)((uint{work}_t){bits} << {slice.Right})";
    }
}
