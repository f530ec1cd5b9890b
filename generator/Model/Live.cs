namespace Locum.Model;

/// <summary>A value that moves on with every release of its frame. Fields of up to 31 bits, or 32 with a sign.</summary>
public sealed record LiveValue(Live Live) : FieldSource;

/// <summary>How a live value moves.</summary>
public abstract record Live;

/// <summary>From one raw value to another in so many releases, evenly.</summary>
/// <param name="Steps">Releases from the first value to the last, 1..65535.</param>
public sealed record Ramp(long From, long To, long Steps, RampEnd End) : Live;

public enum RampEnd
{
    /// <summary>Stays at the last value.</summary>
    Hold,

    /// <summary>Starts again at the first value.</summary>
    Repeat,

    /// <summary>Goes back the same way, and so on.</summary>
    Back,
}

/// <summary>Even noise around a raw value.</summary>
/// <param name="Span">Largest deviation, raw.</param>
/// <param name="Seed">Start of the generator at power-on, not 0.</param>
public sealed record Noise(long Centre, long Span, uint Seed) : Live;

/// <summary>Follows a received field late, slowly, or both.</summary>
/// <param name="Delay">Releases of delay, 0..250.</param>
/// <param name="Slew">Largest change from release to release, raw; 0 for any.</param>
public sealed record Lag(FollowValue Follow, int Delay, long Slew) : Live;
