using System.Text;
using Locum.Capture;
using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Tests.Unit.Capture;

/// <summary>A capture read from memory.</summary>
internal sealed record Captured(CaptureSummary? Summary, IReadOnlyList<Entry> Entries, DiagnosticBag Findings)
{
    public static Captured Of(byte[] bytes, TableLayout? layout = null) => Of(new MemoryStream(bytes), layout);

    public static Captured Of(string text, TableLayout? layout = null) => Of(Encoding.UTF8.GetBytes(text), layout);

    public static Captured Of(Stream stream, TableLayout? layout = null)
    {
        var collector = new Collector();
        var findings = new DiagnosticBag();
        var summary = CaptureReader.Read(stream, "test", collector, findings, new CaptureOptions { Layout = layout });
        return new Captured(summary, collector.Entries, findings);
    }

    /// <summary>How often something odd was counted.</summary>
    public long Count(OddityKind kind) => Summary!.Oddities.Where(o => o.Kind == kind).Sum(o => o.Count);
}
