using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;
using Locum.Text;
using Locum.Wire;

namespace Locum.Binding;

/// <summary>Syntax → stimulus. Names are checked against the given buses and inputs; null lets any name pass.</summary>
/// <remarks>Inputs that outputs of the board drive have no other source.</remarks>
public static class StimulusBinder
{
    internal const long LongestUs = 366L * 24 * 3_600 * 1_000_000;

    public static Stimulus? Bind(SyntaxNode root, IReadOnlyList<string>? buses, IReadOnlyList<string>? inputs, DiagnosticBag diagnostics, IReadOnlyList<string>? driven = null)
    {
        var reader = new MappingReader(root, diagnostics, "a stimulus");
        if (root is not MappingNode)
            return null;
        ModuleBinder.CheckVersion(reader, "locum", diagnostics);
        var name = Scalars.Text(reader.Required("stimulus", "name it: 'stimulus: a normal morning'"), diagnostics, "the stimulus' name");
        var end = Time(reader.Required("for", "say how long to run, such as 'for: 10 s'"), "the running time", diagnostics) ?? 1_000_000;
        var stimulus = new Stimulus
        {
            Name = name ?? "",
            EndUs = end,
            Inputs = BindInputs(reader, inputs, driven ?? [], diagnostics),
            Traffic = TrafficBinder.Bind(reader, buses, end, diagnostics),
            Blocked = BindBlocked(reader, buses, diagnostics),
            Stalls = [.. Items(reader.Optional("stalls")).Select(i => BindSpan(i, "a stall", diagnostics)).OfType<(long, long)>().Select(s => new Stall(s.Item1, s.Item2))],
            BusOffs = EventBinder.BusOffs(reader, buses, diagnostics),
            Resets = EventBinder.Resets(reader, diagnostics),
            Clock = (uint)(Scalars.Integer(reader.Optional("clock"), diagnostics, "the clock at power-on", 0, uint.MaxValue) ?? 0),
        };
        reader.Done();
        return stimulus;
    }

    private static IReadOnlyList<InputChange> BindInputs(MappingReader reader, IReadOnlyList<string>? inputs, IReadOnlyList<string> driven, DiagnosticBag diagnostics)
    {
        var changes = new List<InputChange>();
        foreach (var (key, value) in reader.Named("inputs", "inputs"))
        {
            CheckName(key.Value, key.Span, inputs, "input", diagnostics);
            if (driven.Contains(key.Value))
                diagnostics.Add(Codes.StimulusTarget, key.Span, $"the input '{key.Value}' follows the output of the same name", "leave it out");
            var last = -1L;
            foreach (var item in Items(value))
            {
                var change = new MappingReader(item, diagnostics, "a change");
                var atNode = change.Required("at", "say when, such as 'at: 0.5 s'");
                var at = Time(atNode, "the time", diagnostics);
                var level = Scalars.Word(change.Required("level", "say 'level: active' or 'level: inactive'"), diagnostics, "level", WordTables.States);
                change.Done();
                if (at is null || level is null)
                    continue;
                if (at <= last)
                    diagnostics.Add(Codes.StimulusOrder, atNode!.Span, $"{at} µs is not after the change before, at {last} µs", "put the changes in order of time");
                last = at.Value;
                changes.Add(new InputChange(at.Value, key.Value, level.Value));
            }
        }
        return [.. changes.OrderBy(c => c.AtUs)];
    }

    private static IReadOnlyList<Blocked> BindBlocked(MappingReader reader, IReadOnlyList<string>? buses, DiagnosticBag diagnostics)
    {
        var blocked = new List<Blocked>();
        foreach (var (key, value) in reader.Named("blocked", "buses"))
        {
            CheckName(key.Value, key.Span, buses, "bus", diagnostics);
            foreach (var item in Items(value))
                if (BindSpan(item, "a block", diagnostics) is var (from, until))
                    blocked.Add(new Blocked(key.Value, from, until));
        }
        return blocked;
    }

    private static (long From, long Until)? BindSpan(SyntaxNode node, string what, DiagnosticBag diagnostics)
    {
        var reader = new MappingReader(node, diagnostics, what);
        var from = Time(reader.Required("from", "say when it begins"), "the begin", diagnostics);
        var until = Time(reader.Required("until", "say when it ends"), "the end", diagnostics);
        reader.Done();
        if (from is null || until is null)
            return null;
        if (until > from)
            return (from.Value, until.Value);
        diagnostics.Add(Codes.StimulusOrder, node.Span, "it ends before it begins", "let 'until' be later than 'from'");
        return null;
    }

    internal static void CheckName(string name, Span span, IReadOnlyList<string>? known, string what, DiagnosticBag diagnostics)
    {
        if (known is not null && !known.Contains(name))
            diagnostics.Add(Codes.StimulusTarget, span, $"there is no {what} '{Printable.Short(name)}'", Nearest.Mend(name, [.. known], what));
    }

    internal static long? Time(SyntaxNode? node, string what, DiagnosticBag diagnostics) => Scalars.TimeUs(node, diagnostics, what, 0, LongestUs);

    internal static IReadOnlyList<SyntaxNode> Items(SyntaxNode? node) => node switch
    {
        null => [],
        SequenceNode list => list.Items,
        _ => [node],
    };
}
