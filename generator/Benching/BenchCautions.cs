using Locum.Model;

namespace Locum.Benching;

/// <summary>What to mind when building and measuring. Common practice, no source; local law and licensed practice decide.</summary>
internal static class BenchCautions
{
    private const string Deferred = "This sheet is for a bench. Whether and how anything of it goes into a vehicle is for licensed practice and local law to decide.";

    public static IReadOnlyList<string> Of(Module module) =>
        [.. Special(module.Hazard), .. Cautions.For(module.Hazard), "Try every part first on a supply with a current limit. Resistors that carry power get hot enough to burn skin and insulation."];

    private static IEnumerable<string> Special(Hazard hazard) => hazard switch
    {
        Hazard.None => [],
        Hazard.Restraint =>
        [
            "Restraint loops: never put an ohmmeter to a loop while an igniter is connected, its test current can fire it. Measure the stand-in resistor alone, before it is plugged in.",
            "Disconnect the supply and wait as long as the vehicle's maker says before touching any plug of a restraint system; its capacitors can fire for minutes.",
            "Pyrotechnic parts are stored, moved and disposed of by rule and by those who are licensed for it, never on this bench.",
            Deferred,
        ],
        Hazard.Braking or Hazard.Steering => [Deferred],
        Hazard.Traction => ["Traction: build and measure with the traction supply open and secured against closing.", Deferred],
        Hazard.HighVoltage => ["High voltage: nothing on this sheet is for circuits above 60 V. Isolation, discharge and proof of both are for qualified people.", Deferred],
        _ => throw new ArgumentOutOfRangeException(nameof(hazard)),
    };
}
