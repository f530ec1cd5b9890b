using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;

namespace Locum.Binding;

internal static class ModeBinder
{
    public const int Most = 32;
    public const int MostExits = 64;

    /// <summary>Longest stay, µs: 65535 laps of 2^30 µs, about two years.</summary>
    public const long LongestStayUs = 65_535L << 30;

    public static IReadOnlyList<Mode> Bind(MappingReader module, Bound bound)
    {
        var entries = module.Named("modes", "modes");
        if (entries.Count is 0)
        {
            bound.ModeNames.Add("running");
            return [new Mode { Name = "running", Index = 0, Exits = [], Span = module.Span }];
        }
        foreach (var (key, _) in entries.Take(Most))
            bound.ModeNames.Add(Scalars.Name(key, bound.Diagnostics, "a mode") ?? key.Value);
        if (entries.Count > Most)
            bound.Diagnostics.Add(Codes.TooMany, entries[Most].Key.Span, $"a module has at most {Most} modes", "join modes that differ only in values");
        var modes = entries.Take(Most).Select((e, i) => BindMode(e, i, bound)).ToList();
        bound.CheckClashes(modes.Select(m => (m.Name, m.Span)), "modes");
        return modes;
    }

    private static Mode BindMode(MappingEntry entry, int index, Bound bound)
    {
        var empty = entry.Value is ScalarNode { Quoted: false, Value: "" };
        var reader = new MappingReader(empty ? new MappingNode([], entry.Value.Span) : entry.Value, bound.Diagnostics, "a mode");
        var forUs = Scalars.TimeUs(reader.Optional("for"), bound.Diagnostics, "the time in a mode", 1, LongestStayUs);
        var then = Then(reader, bound, index);
        if (reader.Has("for") && !reader.Has("then"))
            bound.Diagnostics.Add(Codes.ModeTimer, reader.SpanOf("for"), "'for' says when the mode ends but not what follows", "add 'then: <mode>'");
        if (reader.Has("then") && !reader.Has("for"))
            bound.Diagnostics.Add(Codes.ModeTimer, reader.SpanOf("then"), "'then' needs a time", "add 'for: <time>', or move 'then' into 'until'");
        var exits = BindExits(reader.Optional("until"), bound, index);
        var sleep = Scalars.Word(reader.Optional("sleep"), bound.Diagnostics, "answer", WordTables.YesNo) ?? false;
        if (sleep)
            bound.Sleeping.Add(index);
        reader.Done();
        return new Mode
        {
            Name = bound.ModeNames[index],
            Index = index,
            ForUs = then >= 0 ? forUs : null,
            Then = forUs is not null && then >= 0 ? then : null,
            Exits = exits,
            Sleep = sleep,
            Span = entry.Key.Span,
        };
    }

    private static IReadOnlyList<ModeExit> BindExits(SyntaxNode? node, Bound bound, int index)
    {
        IReadOnlyList<SyntaxNode> items = node switch
        {
            null => [],
            SequenceNode list => list.Items,
            var one => [one],
        };
        if (items.Count > MostExits)
            bound.Diagnostics.Add(Codes.TooMany, items[MostExits].Span, $"a mode has at most {MostExits} conditions", "use more modes");
        return [.. items.Take(MostExits).Select(i => BindExit(i, bound, index)).OfType<ModeExit>()];
    }

    private static ModeExit? BindExit(SyntaxNode node, Bound bound, int index)
    {
        var reader = new MappingReader(node, bound.Diagnostics, "a condition");
        if (node is not MappingNode mapping)
            return null;
        var conditions = ConditionBinder.BindAll(mapping, reader, bound, "then");
        if (!reader.Has("then"))
            reader.Required("then", "say which mode follows: 'then: <mode>'");
        var then = Then(reader, bound, index);
        return then >= 0 && conditions.Count > 0 ? new ModeExit(conditions, then, node.Span) : null;
    }

    private static int Then(MappingReader reader, Bound bound, int self)
    {
        var node = reader.Optional("then");
        if (Scalars.Text(node, bound.Diagnostics, "the next mode") is not { } name)
            return -1;
        var then = bound.Find(bound.ModeNames, name, node!.Span, Codes.UnknownMode, "mode");
        if (then != self || then < 0)
            return then;
        bound.Diagnostics.Add(Codes.SelfMode, node.Span, $"mode '{name}' would lead to itself", "name another mode, or leave the line out");
        return -1;
    }
}
