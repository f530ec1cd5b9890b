using Locum.Text;

namespace Locum.Diagnostics;

/// <summary>Collects findings of all stages of one run.</summary>
public sealed class DiagnosticBag
{
    private readonly List<Diagnostic> _all = [];

    public bool HasErrors { get; private set; }

    /// <summary>Findings in order of place: file, line, column, code.</summary>
    public IReadOnlyList<Diagnostic> Sorted =>
    [
        .. _all.Distinct()
            .OrderBy(d => d.Span.File, StringComparer.Ordinal)
            .ThenBy(d => d.Span.Line)
            .ThenBy(d => d.Span.Column)
            .ThenBy(d => d.Code.Id, StringComparer.Ordinal),
    ];

    /// <summary>Takes over the findings of another bag.</summary>
    public void AddAll(DiagnosticBag other)
    {
        _all.AddRange(other._all);
        HasErrors |= other.HasErrors;
    }

    public void Add(Code code, Span span, string message, string? mend = null, Span? other = null)
    {
        _all.Add(new Diagnostic(code, span, message, mend, other));
        HasErrors |= code.Severity == Severity.Error;
    }
}
