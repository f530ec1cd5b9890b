using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>Payloads that a frame sends in turn: "pages" with fields of their own, or "payloads" as plain bytes.</summary>
internal static class PageBinder
{
    public const int Most = 250;

    private static readonly Dictionary<string, bool> s_then = new(StringComparer.Ordinal) { ["repeat"] = false, ["hold"] = true };

    /// <summary>The pages, and whether the last one is held; no pages when the frame has one payload.</summary>
    public static (IReadOnlyList<Page> Pages, bool Hold) Bind(MappingReader frame, FormulaContext context, IReadOnlyList<int> modes, Bound bound)
    {
        var baseBytes = context.Base;
        var pages = new List<Page>();
        var node = frame.Optional("pages") as SequenceNode;
        if (frame.Has("pages") && node is null)
            bound.Diagnostics.Add(Codes.WrongShape, frame.ValueSpan("pages"), "'pages' is a list", "write '- {base: …, fields: {…}}' for each page");
        foreach (var (item, number) in (node?.Items ?? []).Take(Most).Select((n, i) => (n, i + 1)))
        {
            var reader = new MappingReader(item, bound.Diagnostics, "a page");
            if (item is not MappingNode)
                continue;
            var own = FrameBinder.BindBase(reader, baseBytes.Length, bound.Diagnostics);
            own = reader.Has("base") ? own : baseBytes;
            var fields = FieldBinder.Bind(reader, $"{context.Frame} {number}", context with { Base = own }, modes, bound);
            reader.Done();
            pages.Add(new Page(own, fields));
        }
        foreach (var item in (frame.Optional("payloads") as SequenceNode)?.Items.Take(Most) ?? [])
        {
            var bytes = Scalars.Bytes(item, bound.Diagnostics, "a payload");
            if (bytes is not null && bytes.Length != baseBytes.Length)
                bound.Diagnostics.Add(Codes.BaseLength, item.Span, $"the payload has {bytes.Length} bytes, the frame {baseBytes.Length}", $"give {baseBytes.Length} bytes");
            else if (bytes is not null)
                pages.Add(new Page(bytes, []));
        }
        if (frame.Has("payloads") && frame.ValueSpan("payloads") is var span && frame.Optional("payloads") is not SequenceNode)
            bound.Diagnostics.Add(Codes.WrongShape, span, "'payloads' is a list of rows of bytes", "write '- 00 1F A0' for each payload");
        if (frame.Has("pages") && frame.Has("payloads"))
            bound.Diagnostics.Add(Codes.TwoSources, frame.SpanOf("payloads"), "the frame has both 'pages' and 'payloads'", "keep one of them");
        var count = (node?.Items.Count ?? 0) + ((frame.Optional("payloads") as SequenceNode)?.Items.Count ?? 0);
        if (count > Most)
            bound.Diagnostics.Add(Codes.TooMany, frame.SpanOf(frame.Has("pages") ? "pages" : "payloads"), $"a frame has at most {Most} payloads in turn", "split it in two frames");
        if (count is 1)
            bound.Diagnostics.Add(Codes.CounterStep, frame.SpanOf(frame.Has("pages") ? "pages" : "payloads"), "one payload is no turn", "write it as 'base' and 'fields' of the frame");
        var then = frame.Optional("then");
        if (then is not null && count is 0)
            bound.Diagnostics.Add(Codes.MissingKey, frame.SpanOf("then"), "'then' needs pages or payloads", "remove the line");
        var hold = Scalars.Word(then, bound.Diagnostics, "end of a sequence", s_then) ?? false;
        return (pages.Count > 1 ? pages : [], hold);
    }
}
