using Locum.Capture;

namespace Locum.Reporting;

/// <summary>A capture as reported: what was read, and its identifiers.</summary>
/// <param name="Summary">What was read.</param>
/// <param name="Identifiers">By bus, then in arbitration order.</param>
public sealed record CaptureReport(CaptureSummary Summary, IReadOnlyList<IdentifierCount> Identifiers);
