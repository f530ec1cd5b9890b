using Locum.Inference;
using Locum.Inference.Counting;

namespace Locum.Drafting;

/// <summary>Fields that count.</summary>
internal static class CounterLines
{
    /// <summary>Name of the counter field that begins at a bit.</summary>
    public static string Name(int bit) => DraftWords.Text($"count-{bit}");

    /// <summary>The field of a frame's own counter.</summary>
    public static FieldLine Own(DraftContext context, int number, CounterFinding counter, Widening widening)
    {
        var frame = context.Findings.Frames[number];
        var place = counter.Rounds is 0 ? widening.Counter(counter.Place) : counter.Place;
        var rule = counter.Rule;
        if (place != counter.Place)
        {
            ulong all = (1UL << place.Bits) - 1;
            ulong rest = place.Read(frame.Payloads.Data(0)) % rule.Step;
            ulong last = rest + ((all - rest) / rule.Step * rule.Step);
            rule = rule.IsDown ? new CounterRule(last, rest, rule.Step) : new CounterRule(rest, last, rule.Step);
        }
        ulong first = place.Read(frame.Payloads.Data(frame.FirstFrame));
        bool says = (context.Findings.Start.Seen || frame.Pages is not null || counter.Rounds is 0) && rule.Has(first) && first != rule.From;
        string step = rule.Step is 1 ? "" : DraftWords.Text($", step: {rule.Step}");
        string start = says ? DraftWords.Text($", start: {first}") : "";
        string every = counter.Every is 1 ? "" : DraftWords.Text($", every: {counter.Every}");
        string text = DraftWords.Text($"{{from: {rule.From}, to: {rule.To}{step}{every}{start}}}");
        return Line(context, number, place, counter, $"{{{DraftWords.Place(place)}, counter: {text}}}", text);
    }

    /// <summary>The field that carries a shared counter.</summary>
    public static FieldLine Shared(DraftContext context, int number, FieldPlace place, string counter)
    {
        string name = context.FrameNames[number];
        var fact = new Fact(name, "counter", $"{place}: {counter}", Confidence.Possible, default, "", "see counters");
        return new FieldLine(place, Name(place.Bit), $"{{{DraftWords.Place(place)}, counter: {counter}}}", context.Tell(fact));
    }

    private static FieldLine Line(DraftContext context, int number, FieldPlace place, CounterFinding counter, string text, string rule)
    {
        var notes = new List<string>();
        if (counter.MovesWith is { } other)
            notes.Add($"moves with {other}, one may be a function of the other");
        if (counter.IsSequence)
            notes.Add("may number segments of a longer message");
        if (counter.Rounds is 0)
            notes.Add("no round seen to its end");
        var fact = new Fact(context.FrameNames[number], "counter", $"{place}: {rule}", counter.Confidence, counter.Evidence, "step", string.Join("; ", notes));
        return new FieldLine(place, Name(place.Bit), text, context.Tell(fact));
    }
}
