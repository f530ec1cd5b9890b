using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>When a frame is sent: period, period by mode, burst, events.</summary>
internal static class SendingBinder
{
    public const int MostTriggers = 16;

    /// <summary>Distance between repeated releases when none is given, µs.</summary>
    public const long UsualSpacingUs = 10_000;

    /// <summary>The usual period (0 when not cyclic) and the periods by mode (empty when there is only one).</summary>
    public static (long PeriodUs, IReadOnlyDictionary<int, long> ByMode) BindPeriod(MappingReader reader, IReadOnlyList<int> modes, Bound bound)
    {
        var none = new Dictionary<int, long>();
        var node = reader.Has("on") ? reader.Optional("every") : reader.Required("every", "give the period, such as 'every: 20 ms', or an event under 'on'");
        if (node is not MappingNode byMode)
            return (node is null ? 0 : Period(node, bound.Diagnostics) ?? 1_000_000, none);
        var periods = new Dictionary<int, long>();
        long? other = null;
        foreach (var (key, value) in byMode.Entries)
        {
            if (key.Value is "other" && !bound.ModeNames.Contains("other"))
                other = Period(value, bound.Diagnostics);
            else if (bound.Find(bound.ModeNames, key.Value, key.Span, Codes.UnknownMode, "mode") is >= 0 and var mode)
                periods[mode] = Period(value, bound.Diagnostics) ?? 1_000_000;
        }
        foreach (var mode in modes.Where(m => !periods.ContainsKey(m)))
        {
            if (other is null)
                bound.Diagnostics.Add(Codes.ModeWithoutValue, byMode.Span, $"the frame has no period in mode '{bound.ModeNames[mode]}'", $"add '{bound.ModeNames[mode]}: <period>' or 'other: <period>'");
            periods[mode] = other ?? 1_000_000;
        }
        var used = periods.Where(p => modes.Contains(p.Key)).ToDictionary();
        var usual = used.Count is 0 ? 1_000_000 : used.Values.Max();
        return (usual, used.Values.Distinct().Count() > 1 ? used : none);
    }

    public static Burst? BindBurst(MappingReader frame, Bound bound)
    {
        if (frame.Optional("burst") is not { } node)
            return null;
        var reader = new MappingReader(node, bound.Diagnostics, "a burst");
        var count = Scalars.Integer(reader.Required("first", "say how many frames come fast: 'first: 5'"), bound.Diagnostics, "the number of frames", 2, 255);
        var every = reader.Required("every", "give their distance, such as 'every: 10 ms'");
        var period = every is null ? null : Period(every, bound.Diagnostics);
        reader.Done();
        if (!frame.Has("every"))
            bound.Diagnostics.Add(Codes.MissingKey, frame.SpanOf("burst"), "a burst is the fast beginning of a cyclic frame", "add 'every', or use 'on' with 'repeat'");
        return count is null || period is null ? null : new Burst((int)count, period.Value);
    }

    /// <param name="fields">The frame's fields, for changes.</param>
    public static Events? BindEvents(MappingReader frame, IReadOnlyList<Field> fields, Bound bound)
    {
        var node = frame.Optional("on");
        var repeat = Scalars.Integer(frame.Optional("repeat"), bound.Diagnostics, "the number of frames", 1, 65_535) ?? 1;
        var spacing = Scalars.TimeUs(frame.Optional("spacing"), bound.Diagnostics, "the spacing", 100, InputBinder.LongestDelayUs);
        var gap = Scalars.TimeUs(frame.Optional("gap"), bound.Diagnostics, "the gap", 0, InputBinder.LongestDelayUs) ?? 0;
        if (node is null)
        {
            foreach (var key in new[] { "repeat", "spacing", "gap" }.Where(frame.Has))
                bound.Diagnostics.Add(Codes.MissingKey, frame.SpanOf(key), $"'{key}' needs an event", "add 'on', or remove the line");
            return null;
        }
        if (repeat > 1 && spacing is null)
            bound.Diagnostics.Add(Codes.MissingKey, frame.SpanOf("repeat"), "repeated frames need a distance", "add 'spacing: <time>'");
        var triggers = new List<Trigger>();
        var changes = new List<int>();
        var items = node is SequenceNode list ? list.Items : [node];
        foreach (var item in items)
            BindTrigger(item, fields, triggers, changes, bound);
        if (triggers.Count > MostTriggers)
            bound.Diagnostics.Add(Codes.TooMany, node.Span, $"a frame has at most {MostTriggers} events", "split the frame's events between modes");
        return new Events(triggers, (int)repeat, spacing ?? UsualSpacingUs, gap, [.. changes.Distinct().Order()]);
    }

    private static void BindTrigger(SyntaxNode node, IReadOnlyList<Field> fields, List<Trigger> triggers, List<int> changes, Bound bound)
    {
        var reader = new MappingReader(node, bound.Diagnostics, "an event");
        if (node is not MappingNode)
            return;
        var after = Scalars.TimeUs(reader.Optional("after"), bound.Diagnostics, "the delay", 0, InputBinder.LongestDelayUs) ?? 0;
        if (reader.Optional("start") is { } start)
            Scalars.Word(start, bound.Diagnostics, "answer", new Dictionary<string, bool> { ["yes"] = true });
        var level = Scalars.Word(reader.Optional("level"), bound.Diagnostics, "level", WordTables.States) ?? true;
        if (reader.Has("start"))
            triggers.Add(new Trigger(TriggerKind.Start, 0, after));
        Add("mode", bound.ModeNames, TriggerKind.Mode, Codes.UnknownMode, "mode");
        Add("input", [.. bound.Inputs.Select(i => i.Name)], level ? TriggerKind.InputActive : TriggerKind.InputInactive, Codes.UnknownInput, "input");
        Add("receive", [.. bound.Receives.Select(r => r.Name)], TriggerKind.Received, Codes.UnknownReceived, "received frame");
        Add("frame", bound.FrameNames, TriggerKind.Frame, Codes.UnknownFrame, "frame");
        foreach (var item in reader.Optional("change") switch { null => [], SequenceNode many => many.Items, var one => [one] })
            if (Scalars.Text(item, bound.Diagnostics, "a field") is { } name && bound.Find([.. fields.Select(f => f.Name)], name, item.Span, Codes.UnknownField, "field") is >= 0 and var field)
            {
                if (fields[field].Source is not (ModeValue or FollowValue))
                    bound.Diagnostics.Add(Codes.NoChange, item.Span, $"'{name}' never changes by itself", "name a field with values by mode, or one that follows a received field");
                changes.Add(field);
            }
        if (new[] { "start", "mode", "input", "receive", "frame", "change" }.Count(reader.Has) is not 1)
            bound.Diagnostics.Add(Codes.MissingKey, node.Span, "an event has one of 'start', 'mode', 'input', 'receive', 'frame' and 'change'", "write one event per list item");
        if (reader.Has("after") && reader.Has("change"))
            bound.Diagnostics.Add(Codes.UnknownKey, reader.SpanOf("after"), "a change is sent at once, or when the gap is over", "remove 'after'; use 'gap' for the least distance");
        reader.Done();

        void Add(string key, IReadOnlyList<string> names, TriggerKind kind, Code code, string what)
        {
            if (reader.Optional(key) is { } named && Scalars.Text(named, bound.Diagnostics, $"the {what}") is { } name
                && bound.Find(names, name, named.Span, code, what) is >= 0 and var index)
                triggers.Add(new Trigger(kind, index, after));
        }
    }

    private static long? Period(SyntaxNode node, DiagnosticBag diagnostics) =>
        Scalars.TimeUs(node, diagnostics, "the period", 100, InputBinder.LongestDelayUs);
}
