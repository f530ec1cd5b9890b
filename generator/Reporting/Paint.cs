using Locum.Diagnostics;

namespace Locum.Reporting;

/// <summary>Colours by ANSI X3.64 sequences; without colours the text passes unchanged.</summary>
internal sealed class Paint(bool colours)
{
    public string Severity(Severity severity, string text) => Wrap(text, severity switch
    {
        Diagnostics.Severity.Error => "1;31",
        Diagnostics.Severity.Warning => "1;33",
        _ => "1;36",
    });

    public string Faint(string text) => Wrap(text, "2");

    public string Strong(string text) => Wrap(text, "1");

    private string Wrap(string text, string style) => colours ? $"\u001b[{style}m{text}\u001b[0m" : text;
}
