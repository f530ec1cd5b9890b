using Locum.Model;

namespace Locum.Reviewing;

/// <summary>Where a field's value comes from, as facts.</summary>
internal static class SourceFacts
{
    private const string Source = "source";

    /// <param name="frame">The frame, to tell a field's own counter from a shared one.</param>
    public static IReadOnlyList<Fact> Of(Field field, Frame frame, Scope scope)
    {
        var (kind, details) = field.Source switch
        {
            null => ("base", []),
            FixedValue value => ("value", [new Fact("value", Say.Raw(value.Raw, field))]),
            ModeValue value => ("value", ByMode(value, field, frame, scope)),
            CounterValue value => Counter(scope.Module.Counters[value.Counter], value.Counter, field, scope),
            ChecksumValue value => ("checksum", ChecksumFacts.Of(value.Checksum, scope)),
            FollowValue value => ("follow", Follow(value, field, scope)),
            LiveValue { Live: Lag lag } => ("follow", [.. Follow(lag.Follow, field, scope), new Fact("delay", $"{lag.Delay} releases"), new Fact("slew", $"{lag.Slew} raw steps per release")]),
            LiveValue { Live: Ramp ramp } => ("ramp", Ramp(ramp, field)),
            LiveValue { Live: Noise noise } => ("noise", Noise(noise, field)),
            FormulaValue value => ("formula", [new Fact("formula", value.Formula.Text), .. Lost(value.Lost, field)]),
            var other => throw new InvalidOperationException($"no facts are known about {other.GetType().Name}"),
        };
        var shown = details.Count is 0 ? kind : $"{kind}: {Say.List(details.Select(d => d.Label == kind ? d.Value : $"{d.Label} {d.Value}"))}";
        return [new Fact(Source, kind) { Shown = shown }, .. details.Select(d => d with { Of = Source })];
    }

    // Only what is sent counts; the same value in every mode is a value.
    private static List<Fact> ByMode(ModeValue value, Field field, Frame frame, Scope scope)
    {
        var sent = value.Raw.Where(v => frame.Modes.Contains(v.Key)).OrderBy(v => v.Key).ToList();
        if (sent.Select(v => v.Value).Distinct().Count() is 1)
            return [new Fact("value", Say.Raw(sent[0].Value, field))];
        return [new Fact("value", "by mode"), .. sent.Select(v => new Fact($"value in {scope.Mode(v.Key)}", Say.Raw(v.Value, field)))];
    }

    private static (string, List<Fact>) Counter(Counter counter, int index, Field field, Scope scope) => IsOwn(counter, field)
        ? ("counter", [.. CounterFacts(counter)])
        : ("shared counter", [new Fact("shared counter", scope.Counter(index))]);

    /// <summary>True for a counter that the field does not share; the binder names it after frame and field.</summary>
    public static bool IsOwn(Counter counter, Field field) => counter.Name.EndsWith($" {field.Name}", StringComparison.Ordinal);

    public static IReadOnlyList<Fact> CounterFacts(Counter counter) =>
    [
        new("from", $"{counter.From}"),
        new("to", $"{counter.To}"),
        new("step", $"{counter.Step}"),
        new("every", $"{counter.Every}"),
        new("start", $"{counter.Start}"),
        new("advance", counter.PerSlot ? "slot" : "sent"),
        new("restart", counter.RestartOnEntry ? "entry" : "never"),
    ];

    private static List<Fact> Follow(FollowValue follow, Field field, Scope scope) =>
    [
        new("follow", scope.ReceivedField(follow.Received, follow.Field)),
        new("raw value", $"(raw · {follow.Numerator} + {follow.Addend}) / {follow.Denominator}"),
        new("at least", Say.Physical(follow.Low, field)),
        new("at most", Say.Physical(follow.High, field)),
        .. Lost(follow.Lost, field),
    ];

    private static List<Fact> Ramp(Ramp ramp, Field field) =>
    [
        new("from", Say.Physical(ramp.From, field)),
        new("to", Say.Physical(ramp.To, field)),
        new("over", $"{ramp.Steps} releases"),
        new("then", ramp.End.ToString().ToLowerInvariant()),
    ];

    private static List<Fact> Noise(Noise noise, Field field) =>
        [new("around", Say.Physical(noise.Centre, field)), new("span", $"{noise.Span} raw steps"), new("seed", $"{noise.Seed}")];

    private static IEnumerable<Fact> Lost(ulong? lost, Field field) => lost is { } raw ? [new Fact("lost", Say.Raw(raw, field))] : [];
}
