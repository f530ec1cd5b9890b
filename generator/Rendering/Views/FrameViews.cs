using Locum.Binding;
using Locum.Model;

namespace Locum.Rendering.Views;

internal static class FrameViews
{
    public static FrameView Of(Frame frame, Module module, string busName, string prefix, IReadOnlyList<CounterView> counterViews, IReadOnlyList<string> modeNames)
    {
        var payload = Base(frame);
        var writes = frame.Fields
            .Where(f => f.Source is ModeValue or FollowValue or CounterValue or ChecksumValue)
            .OrderBy(f => f.Source switch { ModeValue or FollowValue => 0, CounterValue => 1, _ => 2 })
            .Select(f => Write(f, frame, module, counterViews, modeNames))
            .ToList();
        var carried = frame.Fields.Select(f => f.Source).OfType<CounterValue>().Select(c => c.Counter).Distinct().ToList();
        var sent = module.Modes.Count == frame.Modes.Count ? "" : $", in {string.Join(", ", frame.Modes.Select(m => module.Modes[m].Name))}";
        return new FrameView(
            CText.Comment(frame.Name),
            $"{prefix}_{Names.ToC(frame.Name)}",
            CText.Comment($"{frame.Name}: {frame.Id} on {busName}, {frame.Length} bytes every {CText.Time(frame.PeriodUs)}, first after {CText.Time(frame.OffsetUs)}{sent}"),
            frame.Length,
            [.. payload.Select(b => $"0x{b:X2}u")],
            payload.All(b => b is 0),
            [.. frame.Fields.Where(f => f.Source is FixedValue).Select(f => $"{Place(f)}: {Constant(f)}")],
            writes,
            writes.Any(w => w.Kind is "mode"),
            [.. carried.Select(c => counterViews[c])],
            [.. carried.Where(c => module.Counters[c].PerSlot).Select(c => counterViews[c])],
            [.. carried.Where(c => module.Counters[c].RestartOnEntry).Select(c => counterViews[c])]);
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
                return new WriteView("follow", $"{Place(field)}: follows {FollowViews.Name(follow, module)}", c, type, [], "", null, slices, FollowViews.Of(follow, module, bits));
            case CounterValue counter:
                var view = counters[counter.Counter];
                return new WriteView("counter", $"{Place(field)}: counter {view.From[..^1]} to {view.To[..^1]}", c, type, [], view.C, null, slices);
            case ChecksumValue sum:
                return new WriteView("checksum", $"{Place(field)}: {CText.Comment(sum.Checksum.Rule.Name)}", c, type, [], "", ChecksumViews.Of(sum.Checksum, frame, c, counters), slices);
            default:
                throw new ArgumentOutOfRangeException(nameof(field));
        }
    }

    internal static string Number(ulong value, int bits) => bits is 64 ? $"UINT64_C(0x{value:X})" : $"0x{value:X}u";

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
