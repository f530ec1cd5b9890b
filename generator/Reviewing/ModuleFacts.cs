using Locum.Model;

namespace Locum.Reviewing;

/// <summary>A module and its buses, inputs, modes and shared counters as items.</summary>
internal static class ModuleFacts
{
    public static Item Of(Scope scope, string? wasNamed)
    {
        var module = scope.Module;
        return new Item
        {
            Kind = "module",
            Name = scope.Named("module", "", module.Name),
            WasNamed = wasNamed,
            Identity = Path.GetFileName(module.Path),
            Facts =
            [
                new("hazard", Cautions.Word(module.Hazard)) { Hazard = true },
                new("acknowledgement", module.Acknowledge?.Trim() ?? "none") { Hazard = true },
                new("summary", module.Summary.Length > 0 ? module.Summary : "none"),
                new("first frame within", module.FirstFrame is { } first ? Say.Time(first.WithinUs) : "any time"),
                new("mode at power-on", scope.Mode(0)),
            ],
            Children =
            [
                .. module.Buses.Select(b => Bus(b, scope)),
                .. module.Inputs.Select(i => Input(i, scope)),
                .. module.Outputs.Select(o => Output(o, scope)),
                .. module.Receives.Select(r => FrameFacts.Received(r, scope)),
                .. module.Modes.Select(m => Mode(m, scope)),
                .. Shared(module).Select(c => Part("counter", c.Name, scope, SourceFacts.CounterFacts(c))),
                .. module.Frames.Select(f => FrameFacts.Of(f, scope)),
                .. module.Channels.Select(c => ChannelFacts.Of(c, scope)),
                .. module.Nodes.Select(n => NodeFacts.Of(n, scope)),
                .. module.Bench is { } bench ? new[] { BenchFacts.Of(bench, scope) } : [],
            ],
        };
    }

    private static Item Bus(Bus bus, Scope scope) => Part("bus", bus.Name, scope,
    [
        new("rate", Say.Rate(bus.Rate)),
        new("sample point", Say.Permille(bus.SamplePoint)),
        new("data rate", bus.DataRate is { } rate ? Say.Rate(rate) : "none"),
        new("data sample point", bus.DataRate is null ? "none" : Say.Permille(bus.DataSamplePoint)),
    ]);

    private static Item Input(Input input, Scope scope) => Part("input", input.Name, scope,
    [
        new("kind", input.Kind switch { InputKind.WakeLine => "wake line", InputKind.Supply => "supply", _ => "line" }),
        new("active", input.ActiveHigh ? "high" : "low"),
        new("debounce", Say.Time(input.DebounceUs)),
    ]);

    private static Item Output(Output output, Scope scope) => Part("output", output.Name, scope,
    [
        new("active", output.ActiveHigh ? "high" : "low"),
        new("in", scope.Modes(output.Modes)),
        .. output.While.Select((all, i) => new Fact($"while {i + 1}", string.Join(" and ", all.Select(c => Condition(c, scope))))),
        new("after", Say.Time(output.AfterUs)),
        new("within", output.WithinUs is { } within ? Say.Time(within) : "any time"),
        new("for", output.ForUs is { } time ? Say.Time(time) : "no limit"),
    ]);

    private static Item Mode(Mode mode, Scope scope) => Part("mode", mode.Name, scope,
    [
        new("for", mode.ForUs is { } time ? Say.Time(time) : "no limit"),
        new("then", mode.Then is { } then ? scope.Mode(then) : "none"),
        .. mode.Exits.Select((e, i) => new Fact($"exit {i + 1}", $"{string.Join(" and ", e.When.Select(c => Condition(c, scope)))}, then {scope.Mode(e.Then)}")),
        new("sleep", Say.YesNo(mode.Sleep)),
    ]);

    public static string Condition(Condition condition, Scope scope)
    {
        switch (condition)
        {
            case InputCondition input:
                return $"{scope.Input(input.Input)} {(input.Active ? "active" : "inactive")}";
            case ReceivedCondition received:
                return $"{scope.Received(received.Received)} {(received.There ? "received" : "lost")}";
            case FieldCondition field:
                var sign = field.Comparison switch { Comparison.Equal => "=", Comparison.NotEqual => "≠", Comparison.AtLeast => "≥", _ => "<" };
                return $"{scope.ReceivedField(field.Received, field.Field)} {sign} {Say.Physical(field.Raw, scope.Module.Receives[field.Received].Fields[field.Field])}";
            default:
                throw new InvalidOperationException($"no facts are known about {condition.GetType().Name}");
        }
    }

    private static IEnumerable<Counter> Shared(Module module)
    {
        var own = module.Frames.SelectMany(f => f.AllFields)
            .Where(f => f.Source is CounterValue value && SourceFacts.IsOwn(module.Counters[value.Counter], f))
            .Select(f => ((CounterValue)f.Source!).Counter).ToHashSet();
        return module.Counters.Where((_, i) => !own.Contains(i));
    }

    // Parts that only their name tells apart: one that is the same in everything else was renamed.
    private static Item Part(string kind, string name, Scope scope, IReadOnlyList<Fact> facts) => new()
    {
        Kind = kind,
        Name = scope.Named(kind, "", name),
        WasNamed = scope.WasNamed(kind, "", name),
        Identity = string.Join('|', facts.Select(f => f.Value)),
        Facts = facts,
    };
}
