using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Text;

namespace Locum.Binding;

internal static class CounterBinder
{
    public const int Most = 254;
    public const int MostEvery = 65_535;

    private static readonly Dictionary<string, bool> s_advance = new(StringComparer.Ordinal) { ["sent"] = false, ["slot"] = true };

    private static readonly Dictionary<string, bool> s_restart = new(StringComparer.Ordinal) { ["never"] = false, ["entry"] = true };

    public static void BindShared(MappingReader module, Bound bound)
    {
        var entries = module.Named("counters", "counters");
        if (entries.Count > Most)
            bound.Diagnostics.Add(Codes.TooMany, entries[Most].Key.Span, $"a module has at most {Most} shared counters", "give each field its own counter");
        foreach (var (key, value) in entries.Take(Most))
        {
            var name = Scalars.Name(key, bound.Diagnostics, "a counter");
            if (value is MappingNode mapping && mapping.Entries.All(e => e.Key.Value is not "to"))
                bound.Diagnostics.Add(Codes.MissingKey, key.Span, "a shared counter needs 'to'", "give the last value, such as 'to: 15'");
            bound.Counters.Add(Bind(value, name ?? key.Value, uint.MaxValue, key.Span, bound));
        }
        bound.CheckClashes(bound.Counters.Select(c => (c.Name, c.Span)), "counters");
    }

    /// <summary>A counter of its own for one field.</summary>
    public static int BindOwn(SyntaxNode node, string frame, string field, int bits, Span span, Bound bound)
    {
        var most = bits >= 32 ? uint.MaxValue : (1u << bits) - 1;
        bound.Counters.Add(Bind(node, $"{frame} {field}", most, span, bound));
        return bound.Counters.Count - 1;
    }

    private static Counter Bind(SyntaxNode node, string name, uint most, Span span, Bound bound)
    {
        var reader = new MappingReader(node, bound.Diagnostics, "a counter");
        var from = Value(reader, "from", bound) ?? 0;
        var to = Value(reader, "to", bound) ?? most;
        var step = (uint)(Scalars.Integer(reader.Optional("step"), bound.Diagnostics, "the step", 1, uint.MaxValue) ?? 1);
        var every = (uint)(Scalars.Integer(reader.Optional("every"), bound.Diagnostics, "the number of frames", 1, MostEvery) ?? 1);
        var start = Value(reader, "start", bound) ?? from;
        var perSlot = Scalars.Word(reader.Optional("advance"), bound.Diagnostics, "way to advance", s_advance) ?? false;
        var restart = Scalars.Word(reader.Optional("restart"), bound.Diagnostics, "way to restart", s_restart) ?? false;
        reader.Done();

        var low = Math.Min(from, to);
        var distance = Math.Max(from, to) - low;
        if (distance / step == 0)
            bound.Diagnostics.Add(Codes.CounterStep, reader.Span, $"from {from} to {to} in steps of {step} there is only one value", "use a constant value, or a smaller step");
        var away = Math.Max(from, start) - Math.Min(from, start);
        if (start < low || start > Math.Max(from, to) || away % step != 0)
            bound.Diagnostics.Add(Codes.OutOfRange, reader.ValueSpan("start"), $"the counter never has the value {start}", "start with a value that lies on its way");
        return new Counter { Name = name, From = from, To = to, Step = step, Every = every, Start = start, PerSlot = perSlot, RestartOnEntry = restart, Span = span };
    }

    private static uint? Value(MappingReader reader, string key, Bound bound) =>
        (uint?)Scalars.Integer(reader.Optional(key), bound.Diagnostics, $"'{key}'", 0, uint.MaxValue);
}
