using System.Buffers.Binary;
using System.IO.Compression;
using Locum.Diagnostics;
using Locum.Text;

namespace Locum.Capture;

/// <summary>
/// Reads captures of any known form, recognised by their contents, compressed with gzip or not. Memory does not grow
/// with the file; what is odd is counted and the sound frames are kept. Never throws on what a file holds.
/// </summary>
public static class CaptureReader
{
    /// <summary>Reads a file and keeps its frames in memory; null (and a finding) when it is not usable.</summary>
    public static LoadedCapture? Load(string path, DiagnosticBag diagnostics, CaptureOptions? options = null)
    {
        var builder = new RecordingBuilder();
        return Read(path, builder, diagnostics, options) is { } summary
            ? new LoadedCapture(path, builder.Build([.. summary.Buses.Select(b => b.Name)]), summary)
            : null;
    }

    /// <summary>Reads a file; null (and a finding) when it is not usable. Entries may have been handed on before that is known.</summary>
    public static CaptureSummary? Read(string path, IFrameSink sink, DiagnosticBag diagnostics, CaptureOptions? options = null) =>
        CaptureFile.Open(path, diagnostics) is { } stream ? Read(stream, path, sink, diagnostics, options) : null;

    /// <summary>Reads a stream to its end and closes it; null (and a finding) when it is not usable.</summary>
    /// <param name="stream">The bytes.</param>
    /// <param name="path">What to call it in messages.</param>
    /// <param name="sink">Takes the entries.</param>
    /// <param name="diagnostics">Takes the finding.</param>
    /// <param name="options">How to read.</param>
    public static CaptureSummary? Read(
        Stream stream, string path, IFrameSink sink, DiagnosticBag diagnostics, CaptureOptions? options = null)
    {
        options ??= CaptureOptions.Default;
        var oddities = new Oddities();
        var intake = new FrameIntake(sink, oddities);
        using var source = CaptureFile.Unpack(stream, oddities, options.Progress);
        if (!source.Fill(1))
        {
            diagnostics.Add(Codes.EmptyCapture, Span.Start(path), "the file is empty", "check that the logger wrote to this file");
            return null;
        }

        source.Fill(4);
        if (source.Window.Length >= 4 && BinaryPrimitives.ReadUInt32LittleEndian(source.Window) is PcapNgReader.SectionHeader)
        {
            var reader = new PcapNgReader(source, intake);
            reader.Read();
            return Summary(path, CaptureFormat.PcapNg, "pcapng", reader.Packets, intake);
        }

        diagnostics.Add(Codes.UnknownCapture, Span.Start(path), "this is no known form of capture", "convert it to pcapng, or describe its columns in a layout (--layout)");
        return null;
    }

    private static CaptureSummary Summary(string path, CaptureFormat format, string text, long packets, FrameIntake intake) => new()
    {
        Path = path,
        Format = format,
        FormatText = text,
        Buses = intake.Buses,
        Items = packets,
        ItemWord = "packet",
        HasTime = true,
        TimeText = "as stamped by the capturing machine",
        FirstNs = intake.FirstNs,
        LastNs = intake.PreviousNs,
        Columns = [],
        Oddities = intake.Oddities.All,
    };
}
