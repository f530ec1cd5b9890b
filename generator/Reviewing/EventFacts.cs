using Locum.Model;

namespace Locum.Reviewing;

/// <summary>Events that send a frame, as facts.</summary>
internal static class EventFacts
{
    public static IEnumerable<Fact> Of(Frame frame, Scope scope) => frame.Events is not { } events ? [new Fact("on", "no event")] :
    [
        new("on", Say.List(events.Triggers.Select(t => Trigger(t, scope)).Concat(events.Changes.Select(c => $"change of {scope.Named("field", frame.Name, frame.Fields[c].Name)}")))),
        new("repeat", $"{events.Repeat}") { Usual = "1" },
        new("spacing", Say.Time(events.SpacingUs)) { Usual = "10 ms" },
        new("gap", Say.Time(events.GapUs)) { Usual = "0 ms" },
    ];

    private static string Trigger(Trigger trigger, Scope scope)
    {
        var what = trigger.Kind switch
        {
            TriggerKind.Start => "start",
            TriggerKind.Mode => $"mode {scope.Mode(trigger.Index)}",
            TriggerKind.InputActive => $"{scope.Input(trigger.Index)} active",
            TriggerKind.InputInactive => $"{scope.Input(trigger.Index)} inactive",
            TriggerKind.Received => $"reception of {scope.Received(trigger.Index)}",
            TriggerKind.Frame => $"frame {scope.Frame(trigger.Index)}",
            _ => throw new InvalidOperationException($"no facts are known about {trigger.Kind}"),
        };
        return trigger.AfterUs is 0 ? what : $"{what} after {Say.Time(trigger.AfterUs)}";
    }
}
