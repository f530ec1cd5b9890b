using Locum.Model;

namespace Locum.Reviewing;

/// <summary>When a board must not send, as facts.</summary>
internal static class GuardFacts
{
    public static IEnumerable<Fact> Of(Guards guards) =>
    [
        new("foreign sender", guards.ForeignSender ? "silence" : "no guard"),
        new("bus-off", guards.BusOff is { } busOff ? $"{busOff.Recoveries} recoveries within {Say.Time(busOff.WithinUs)}, wait {Say.Time(busOff.WaitUs)}" : "no guard"),
        new("enable", guards.Enable is { } enable ? $"{enable.Input}, active {Level(enable.ActiveHigh)}, debounce {(enable.DebounceUs is { } time ? Say.Time(time) : "usual")}" : "no guard"),
        new("run at most", guards.RunAtMostUs is { } most ? Say.Time(most) : "no limit"),
        new("brown-outs", guards.BrownOuts is { } dips ? $"{dips.Most} in a row, forgotten after {Say.Time(dips.SteadyUs)}" : "no guard"),
        new("resume", Say.YesNo(guards.Resume)),
    ];

    private static string Level(bool? high) => high switch { true => "high", false => "low", null => "as the module has it" };
}
