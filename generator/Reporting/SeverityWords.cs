using Locum.Diagnostics;

namespace Locum.Reporting;

/// <summary>The words for severities, the same in text, JSON and SARIF (levels of SARIF 2.1.0, 3.27.10).</summary>
internal static class SeverityWords
{
    public static string Of(Severity severity) => severity switch
    {
        Severity.Error => "error",
        Severity.Warning => "warning",
        Severity.Note => "note",
        _ => throw new ArgumentOutOfRangeException(nameof(severity)),
    };
}
