namespace Locum.Model;

/// <summary>The cautions that every output repeats for a class of harm. Common practice, no source; local law and licensed practice decide.</summary>
public static class Cautions
{
    private const string General = "Stand-in firmware hides the absence of a module from the rest of the vehicle. Check what else relied on it.";

    /// <summary>The word a description uses for the class.</summary>
    public static string Word(Hazard hazard) => hazard switch
    {
        Hazard.None => "none",
        Hazard.Restraint => "restraint",
        Hazard.Braking => "braking",
        Hazard.Steering => "steering",
        Hazard.Traction => "traction",
        Hazard.HighVoltage => "high-voltage",
        _ => throw new ArgumentOutOfRangeException(nameof(hazard)),
    };

    /// <summary>Sentences to show, most important first; the last one for every class but none defers to law and licence.</summary>
    public static IReadOnlyList<string> For(Hazard hazard)
    {
        string? special = hazard switch
        {
            Hazard.None => null,
            Hazard.Restraint => "RESTRAINT SYSTEM: a simulated module does not protect anyone. Never measure a connected igniter loop with an ohmmeter; disconnect the supply and wait before touching plugs; store pyrotechnic parts by rule.",
            Hazard.Braking => "BRAKING: simulated messages can keep a brake function switched on that no longer works. Try first with the vehicle secured and with a second, independent brake.",
            Hazard.Steering => "STEERING: simulated messages can command or keep up assistance that is no longer safe. Try first with the steered wheels off the ground and nobody in reach.",
            Hazard.Traction => "TRACTION: simulated messages can let a drive move. Try first with the drive wheels off the ground or the traction supply open.",
            Hazard.HighVoltage => "HIGH VOLTAGE: simulated messages can close contactors or defeat interlocks. Work only with the system isolated, discharged and proved dead, by qualified people.",
            _ => throw new ArgumentOutOfRangeException(nameof(hazard)),
        };
        return special is null ? [General]
            : [special, General, "Local law and licensed practice decide whether this may be used at all, above all on public ways."];
    }
}
