namespace Locum.Parts;

/// <summary>A capacitor behind a diode that feeds a load while the supply dips.</summary>
public static class HoldUpCapacitor
{
    /// <summary>Capacitance for a constant current (linear regulator): C = I t / (V1 - V2), F.</summary>
    public static double ForCurrent(double currentA, double seconds, double fromV, double toV) => currentA * seconds / (fromV - toV);

    /// <summary>Capacitance for a constant power (switching converter): C = 2 P t / (V1² - V2²), F.</summary>
    public static double ForPower(double powerW, double seconds, double fromV, double toV) => 2 * powerW * seconds / ((fromV * fromV) - (toV * toV));

    /// <summary>How long a capacitor holds a constant current, s.</summary>
    public static double HoldsCurrent(double farad, double currentA, double fromV, double toV) => farad * (fromV - toV) / currentA;

    /// <summary>How long it holds a constant power, s.</summary>
    public static double HoldsPower(double farad, double powerW, double fromV, double toV) => farad * ((fromV * fromV) - (toV * toV)) / (2 * powerW);
}
