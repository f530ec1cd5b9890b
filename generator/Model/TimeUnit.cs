namespace Locum.Model;

/// <summary>How times are written in a table.</summary>
public enum TimeUnit
{
    Seconds,
    Milliseconds,
    Microseconds,
    Nanoseconds,

    /// <summary>Time of day, with a date or without.</summary>
    Clock,
}
