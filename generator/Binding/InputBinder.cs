using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Binding;

internal static class InputBinder
{
    public const int Most = 16;

    /// <summary>Longest single delay the firmware compares, µs (2^30).</summary>
    public const long LongestDelayUs = 1L << 30;

    private static readonly Dictionary<string, InputKind> s_kinds = new(StringComparer.Ordinal)
    {
        ["wake line"] = InputKind.WakeLine,
        ["supply"] = InputKind.Supply,
        ["line"] = InputKind.Line,
    };

    public static void Bind(MappingReader module, Bound bound)
    {
        var entries = module.Named("inputs", "inputs");
        if (entries.Count > Most)
            bound.Diagnostics.Add(Codes.TooMany, entries[Most].Key.Span, $"a module has at most {Most} inputs", "leave out inputs that no condition uses");
        foreach (var (key, value) in entries.Take(Most))
        {
            var name = Scalars.Name(key, bound.Diagnostics, "an input");
            if (name is "then")
                bound.Diagnostics.Add(Codes.BadName, key.Span, "'then' is a key of conditions and cannot name an input", "choose another name");
            var reader = new MappingReader(value, bound.Diagnostics, "an input");
            var kind = Scalars.Word(reader.Optional("kind"), bound.Diagnostics, "kind of input", s_kinds) ?? InputKind.Line;
            var active = Scalars.Word(reader.Required("active", "say which level is the active one: 'active: high' or 'active: low'"), bound.Diagnostics, "level", WordTables.Levels) ?? true;
            var debounce = Scalars.TimeUs(reader.Optional("debounce"), bound.Diagnostics, "the debounce", 0, LongestDelayUs) ?? 0;
            reader.Done();
            bound.Inputs.Add(new Input(name ?? key.Value, kind, active, debounce, key.Span));
        }
        bound.CheckClashes(bound.Inputs.Select(i => (i.Name, i.Span)), "inputs");
    }
}
