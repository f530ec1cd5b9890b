namespace Locum.Diagnostics;

/// <summary>How much a finding matters. Only errors stop later stages.</summary>
public enum Severity
{
    Note,
    Warning,
    Error,
}
