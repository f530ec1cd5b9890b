using Locum.Planning;

namespace Locum.Tests.Firmware;

/// <summary>What emulated boards put out on the pins of their outputs.</summary>
internal static class Pins
{
    private const double StepUs = 20;

    /// <summary>How late a board is; outputs add to what a step does (README).</summary>
    public static double ToleranceUs(string kind) => GuardedBoard.Of(kind).ToleranceUs + StepUs;

    public static PlannedOutput Of(BoardPlan plan, string name) => plan.Outputs.Single(o => o.Output.Name == name);

    /// <summary>The pin as emulators take it.</summary>
    public static string Watched(BoardPlan plan, string name)
    {
        var pin = Of(plan, name).Pin!.PortPin;
        return pin[(pin[1] is '0' ? 2 : 1)..];
    }

    // The level of an output that is off is no news; what the pin does before it drives is the emulator's matter.
    public static IEnumerable<(double AtUs, bool On)> Switches(EmulatedRun run, BoardPlan plan, string name)
    {
        var on = false;
        foreach (var pin in run.Output.Pins)
        {
            if ((pin.High == Of(plan, name).Output.ActiveHigh) == on)
                continue;
            on = !on;
            yield return (run.Clock.Simulated(pin.AtUs), on);
        }
    }
}
