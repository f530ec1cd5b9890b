using Locum.Text;

namespace Locum.Diagnostics;

/// <summary>One finding about a place in a source text.</summary>
/// <param name="Code">What kind of finding.</param>
/// <param name="Span">Where.</param>
/// <param name="Message">What is wrong and why it matters, with the values at hand; one sentence, no final stop.</param>
/// <param name="Mend">What to do about it; one sentence, no final stop.</param>
/// <param name="Other">A second place that belongs to it, such as the first of two clashing entries.</param>
public sealed record Diagnostic(Code Code, Span Span, string Message, string? Mend = null, Span? Other = null)
{
    public Severity Severity => Code.Severity;
}
