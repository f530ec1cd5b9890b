using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>Outputs: when a pin is on.</summary>
internal static class OutputBinder
{
    public const int Most = 16;
    public const int MostConditions = 64;

    public static IReadOnlyList<Output> Bind(MappingReader module, Bound bound)
    {
        var entries = module.Named("outputs", "outputs");
        if (entries.Count > Most)
            bound.Diagnostics.Add(Codes.TooMany, entries[Most].Key.Span, $"a module has at most {Most} outputs", "join outputs that switch together, or split the module in two");
        var outputs = entries.Take(Most).Select(e => BindOne(e, bound)).ToList();
        bound.CheckClashes(outputs.Select(o => (o.Name, o.Span)), "outputs");
        return outputs;
    }

    private static Output BindOne(MappingEntry entry, Bound bound)
    {
        var name = Scalars.Name(entry.Key, bound.Diagnostics, "an output");
        var reader = new MappingReader(entry.Value, bound.Diagnostics, "an output");
        var active = Scalars.Word(reader.Required("active", "say which level switches on: 'active: high' or 'active: low'"), bound.Diagnostics, "level", WordTables.Levels) ?? true;
        var modes = FrameBinder.BindModes(reader, bound);
        var conditions = BindWhile(reader.Optional("while"), bound);
        var after = Scalars.TimeUs(reader.Optional("after"), bound.Diagnostics, "the delay", 0, InputBinder.LongestDelayUs) ?? 0;
        var forUs = Scalars.TimeUs(reader.Optional("for"), bound.Diagnostics, "the time an output is on", 1, InputBinder.LongestDelayUs);
        var within = Scalars.TimeUs(reader.Optional("within"), bound.Diagnostics, "the time to the first switching", 1, ModuleBinder.LongestStartUs);
        reader.Done();
        return new Output { Name = name ?? entry.Key.Value, ActiveHigh = active, Modes = modes, While = conditions, AfterUs = after, ForUs = forUs, WithinUs = within, Span = entry.Key.Span };
    }

    private static IReadOnlyList<IReadOnlyList<Condition>> BindWhile(SyntaxNode? node, Bound bound)
    {
        IReadOnlyList<SyntaxNode> items = node switch
        {
            null => [],
            SequenceNode list => list.Items,
            var one => [one],
        };
        if (items.Count > MostConditions)
            bound.Diagnostics.Add(Codes.TooMany, items[MostConditions].Span, $"an output has at most {MostConditions} conditions", "use more outputs or modes");
        return [.. items.Take(MostConditions).Select(i => ConditionBinder.BindAll(i, new MappingReader(i, bound.Diagnostics, "a condition"), bound)).Where(c => c.Count > 0)];
    }
}
