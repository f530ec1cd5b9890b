using Locum.Model;
using Locum.Planning;

namespace Locum.Rendering.Views;

/// <summary>Tables of the frames that events send, and of the events.</summary>
internal static class EventViews
{
    public static IReadOnlyList<EventRowView> Rows(BoardPlan plan) =>
    [
        .. plan.Frames.Where(f => f.Frame.Events is not null).Select(f => new EventRowView(
            CText.Comment(f.Sender),
            f.Frame.Events!.SpacingUs,
            f.Frame.Events.GapUs,
            f.Frame.Events.Repeat,
            f.Row,
            f.Frame.Events.Changes.Count > 0 ? $"{FrameName(f)}_changed" : "0")),
    ];

    public static IReadOnlyList<TriggerView> Triggers(BoardPlan plan, IReadOnlyList<ModuleView> modules)
    {
        var triggers = new List<TriggerView>();
        foreach (var (frame, row) in plan.Frames.Where(f => f.Frame.Events is not null).Select((f, i) => (f, i)))
            foreach (var trigger in frame.Frame.Events!.Triggers)
                triggers.Add(new TriggerView(
                    CText.Comment($"{frame.Sender}: {Describe(frame, trigger)}"),
                    trigger.AfterUs,
                    Kind(trigger.Kind),
                    $"MODULE_{modules[frame.Owner.Index].Upper}",
                    Index(plan, frame, trigger),
                    row));
        return triggers;
    }

    private static string FrameName(PlannedFrame frame) => $"{Binding.Names.ToC(frame.Owner.Module.Name)}_{Binding.Names.ToC(frame.Frame.Name)}";

    private static string Describe(PlannedFrame frame, Trigger trigger)
    {
        var module = frame.Owner.Module;
        var what = trigger.Kind switch
        {
            TriggerKind.Start => "when it starts",
            TriggerKind.Mode => $"on entering {module.Modes[trigger.Index].Name}",
            TriggerKind.InputActive => $"when {module.Inputs[trigger.Index].Name} settles active",
            TriggerKind.InputInactive => $"when {module.Inputs[trigger.Index].Name} settles inactive",
            TriggerKind.Received => $"on {module.Receives[trigger.Index].Name}",
            _ => $"after {module.Frames[trigger.Index].Name}",
        };
        return trigger.AfterUs > 0 ? $"{what}, {CText.Time(trigger.AfterUs)} later" : what;
    }

    private static string Kind(TriggerKind kind) => kind switch
    {
        TriggerKind.Start => "LOCUM_ON_START",
        TriggerKind.Mode => "LOCUM_ON_MODE",
        TriggerKind.InputActive => "LOCUM_ON_ACTIVE",
        TriggerKind.InputInactive => "LOCUM_ON_INACTIVE",
        TriggerKind.Received => "LOCUM_ON_RECEIVED",
        _ => "LOCUM_ON_FRAME",
    };

    // The firmware counts inputs, received frames and frames by the board, modes by the module.
    private static int Index(BoardPlan plan, PlannedFrame frame, Trigger trigger) => trigger.Kind switch
    {
        TriggerKind.Start => frame.Row,
        TriggerKind.Mode => trigger.Index,
        TriggerKind.InputActive or TriggerKind.InputInactive => frame.Owner.Inputs[trigger.Index],
        TriggerKind.Received => plan.Modules.Take(frame.Owner.Index).Sum(m => m.Module.Receives.Count) + trigger.Index,
        _ => plan.Frames.Single(f => f.Owner == frame.Owner && f.IndexInModule == trigger.Index).Row,
    };
}
