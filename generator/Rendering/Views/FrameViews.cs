using Locum.Binding;
using Locum.Model;

namespace Locum.Rendering.Views;

internal static class FrameViews
{
    public static FrameView Of(Frame frame, Module module, string busName, string prefix, IReadOnlyList<CounterView> counters, IReadOnlyList<string> modeNames)
    {
        var c = $"{prefix}_{Names.ToC(frame.Name)}";
        var common = Carried(frame.Fields);
        var all = Carried(frame.AllFields);
        var changes = (frame.Events?.Changes ?? []).Select(f => Write(frame.Fields[f], frame, module, counters, modeNames)).ToList();
        return new FrameView(
            CText.Comment(frame.Name),
            c,
            Comment(frame, module, busName),
            [.. frame.Pages.Select((_, i) => PageName(c, i))],
            frame.Pages.Count - 1,
            frame.HoldLastPage,
            Views(common),
            Views(common.Where(PerSlot)),
            Views(all.Where(k => module.Counters[k].RestartOnEntry)),
            [.. frame.Pages.Select((p, i) => (Page: i, Own: Carried(p.Fields).Except(common).ToList())).Where(p => p.Own.Count > 0)
                .Select(p => new PageCountersView(p.Page, Views(p.Own), Views(p.Own.Where(PerSlot))))],
            frame.PeriodByMode.Count is 0 ? [] : [.. module.Modes.Select(m => $"{frame.PeriodIn(m.Index)}u")],
            changes,
            changes.Any(w => w.Kind is "mode"),
            [.. frame.AllFields.Where(f => f.Source is LiveValue).Select(f => LiveViews.Of(f, ((LiveValue)f.Source!).Live, Names.ToC(frame.Name), module))]);

        IReadOnlyList<CounterView> Views(IEnumerable<int> some) => [.. some.Select(k => counters[k])];
        bool PerSlot(int counter) => module.Counters[counter].PerSlot;
    }

    /// <summary>The functions that write the frame's payloads: one, or one for each page.</summary>
    public static IEnumerable<CompositionView> Compositions(Frame frame, Module module, string busName, string prefix, IReadOnlyList<CounterView> counters, IReadOnlyList<string> modeNames)
    {
        var c = $"{prefix}_{Names.ToC(frame.Name)}";
        return frame.Variants.Select((variant, page) =>
        {
            var writes = variant.Fields.Where(f => Order(f.Source) >= 0).OrderBy(f => Order(f.Source))
                .Select(f => Write(f, variant, module, counters, modeNames) with { Shared = FormulaViews.IsRead(f, variant) }).ToList();
            return new CompositionView(
                frame.Pages.Count is 0 ? $"{c}_compose" : PageName(c, page),
                frame.Pages.Count > 0,
                frame.Pages.Count is 0 ? Comment(frame, module, busName) : CText.Comment($"{frame.Name}, payload {page + 1} of {frame.Pages.Count}"),
                variant.Length,
                [.. Base(variant).Select(b => $"0x{b:X2}u")],
                [.. variant.Fields.Where(f => f.Source is FixedValue).Select(f => $"{Place(f)}: {Constant(f)}")],
                writes,
                writes.Any(w => w.Kind is "mode" || w.Formula is { ReadsMode: true }));
        });
    }

    // The order in which fields are written; -1 for those that are part of the base.
    private static int Order(FieldSource? source) => source switch
    {
        ModeValue or FollowValue or LiveValue => 0,
        CounterValue => 1,
        FormulaValue => 2,
        ChecksumValue => 3,
        _ => -1,
    };

    private static string PageName(string c, int page) => $"{c}_page_{page + 1}";

    private static List<int> Carried(IEnumerable<Field> fields) => [.. fields.Select(f => f.Source).OfType<CounterValue>().Select(c => c.Counter).Distinct()];

    private static string Comment(Frame frame, Module module, string busName)
    {
        var periods = frame.PeriodByMode.Count is 0 ? CText.Time(frame.PeriodUs)
            : string.Join(", ", frame.PeriodByMode.OrderBy(p => p.Key).Select(p => $"{CText.Time(p.Value)} in {module.Modes[p.Key].Name}"));
        var when = frame.IsCyclic ? $"every {periods}, first after {CText.Time(frame.OffsetUs)}" : "";
        var burst = frame.Burst is { } b ? $", {b.Count} at first {CText.Time(b.PeriodUs)} apart" : "";
        var events = frame.Events is null ? "" : $"{(when.Length > 0 ? ", and " : "")}on events";
        var sent = module.Modes.Count == frame.Modes.Count ? "" : $", in {string.Join(", ", frame.Modes.Select(m => module.Modes[m].Name))}";
        return string.Join("\n     ", CText.Wrap($"{frame.Name}: {frame.Id} on {busName}, {frame.Length} bytes {when}{burst}{events}{sent}", 104));
    }

    private static byte[] Base(Frame frame)
    {
        var payload = (byte[])frame.Base.Clone();
        foreach (var field in frame.Fields.Where(f => f.Source is not null))
        {
            var raw = field.Source is FixedValue value ? value.Raw : 0;
            foreach (var position in field.Positions())
            {
                payload[position / 8] = (byte)(payload[position / 8] & ~(1 << (position % 8)) | (int)(raw & 1) << (position % 8));
                raw >>= 1;
            }
        }
        return payload;
    }

    private static WriteView Write(Field field, Frame frame, Module module, IReadOnlyList<CounterView> counters, IReadOnlyList<string> modeNames)
    {
        var bits = field.Bits <= 8 ? 8 : field.Bits <= 16 ? 16 : field.Bits <= 32 ? 32 : 64;
        var c = $"value_{Names.ToC(field.Name)}";
        var slices = Slices.Of(field, bits);
        var type = $"uint{bits}_t";
        switch (field.Source)
        {
            case ModeValue byMode:
                var cases = byMode.Raw.Where(v => frame.Modes.Contains(v.Key)).GroupBy(v => v.Value)
                    .OrderBy(g => g.Min(v => v.Key))
                    .Select(g => new CaseView([.. g.Select(v => v.Key).Order().Select(m => modeNames[m])], Number(g.Key, bits)));
                return new WriteView("mode", $"{Place(field)}: by mode", c, type, [.. cases], "", null, slices);
            case FollowValue follow:
                return new WriteView("follow", $"{Place(field)}: follows {FollowViews.Name(follow, module)}", c, type, [], "", null, slices, FollowViews.Of(follow, module, AsComputed(follow.Lost, field, bits), bits));
            case LiveValue:
                return new WriteView("live", $"{Place(field)}: moves with the releases", c, type, [], LiveViews.Variable(field, Names.ToC(frame.Name)), null, slices);
            case CounterValue counter:
                var view = counters[counter.Counter];
                return new WriteView("counter", $"{Place(field)}: counter {view.From[..^1]} to {view.To[..^1]}", c, type, [], view.C, null, slices);
            case FormulaValue { Formula: var formula, Lost: var lost }:
                return new WriteView("formula", FormulaViews.Comment(Place(field), formula), c, type, [], "", null, slices) { Formula = FormulaViews.Of(formula, lost, field, frame, module, counters, modeNames) };
            case ChecksumValue { Checksum.Rule: FormulaRule { Formula: var formula } }:
                return new WriteView("formula", FormulaViews.Comment(Place(field), formula), c, type, [], "", null, slices) { Formula = FormulaViews.Of(formula, null, field, frame, module, counters, modeNames) };
            case ChecksumValue sum:
                return new WriteView("checksum", $"{Place(field)}: {CText.Comment(sum.Checksum.Rule.Name)}", c, type, [], "", ChecksumViews.Of(sum.Checksum, frame, c, counters), slices);
            default:
                throw new ArgumentOutOfRangeException(nameof(field));
        }
    }

    internal static string Number(ulong value, int bits) => bits is 64 ? $"UINT64_C(0x{value:X})" : $"0x{value:X}u";

    // A negative value in the C type of a narrower field, as a computed one has it there: the two are compared.
    private static ulong AsComputed(ulong raw, Field field, int bits) =>
        field.Bits < 64 ? unchecked((ulong)field.WithSign(raw)) & (ulong.MaxValue >> (64 - bits)) : raw;

    private static string Place(Field field)
    {
        var order = field.BigEndian ? ", big-endian" : "";
        return CText.Comment($"{field.Name}, bit {field.Bit}, {field.Bits} bit{(field.Bits is 1 ? "" : "s")}{order}");
    }

    private static string Constant(Field field)
    {
        var raw = ((FixedValue)field.Source!).Raw;
        var name = field.Names.FirstOrDefault(n => unchecked((ulong)n.Value) == raw).Key;
        var meaning = name is not null ? $" ({name})"
            : field.Scale is 1 && field.Offset is 0 && field.Unit is null && !field.Signed ? ""
            : $" ({(Signed(raw, field) * field.Scale) + field.Offset} {field.Unit})";
        return CText.Comment($"0x{raw:X}{meaning}");
    }

    private static decimal Signed(ulong raw, Field field) =>
        field.Signed && (raw >> (field.Bits - 1) & 1) is 1 ? (long)(raw | (field.Bits is 64 ? 0 : ulong.MaxValue << field.Bits)) : raw;
}
