using System.Buffers.Binary;
using Locum.Diagnostics;
using Locum.Text;

namespace Locum.Capture;

/// <summary>
/// Reads captures of any known form, recognised by their contents, compressed with gzip or not. Memory does not grow
/// with the file; what is odd is counted and the sound frames are kept. Never throws on what a file holds.
/// </summary>
public static class CaptureReader
{
    private const int MagicSize = 4;

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
        var intake = new FrameIntake(sink, new Oddities());
        var source = CaptureFile.Unpack(stream, intake.Oddities, options.Progress);
        try
        {
            return Read(ref source, path, intake, diagnostics, options) is { } facts && Judge(facts, path, intake, diagnostics)
                ? Summary(facts, path, intake) : null;
        }
        finally
        {
            source.Dispose();
        }
    }

    private static CaptureFacts? Read(ref ByteSource source, string path, FrameIntake intake, DiagnosticBag diagnostics, CaptureOptions options)
    {
        if (!source.Fill(1))
        {
            bool damaged = intake.Oddities.Count(OddityKind.CompressedEndDamaged) > 0;
            diagnostics.Add(Codes.EmptyCapture, Span.Start(path), damaged ? "the compressed file is damaged at its start" : "the file is empty", damaged ? "get an undamaged copy" : "check that the logger wrote to this file");
            return null;
        }

        if (source.Fill(MagicSize) && BinaryPrimitives.ReadUInt32LittleEndian(source.Window) is PcapNgReader.SectionHeader)
        {
            var reader = new PcapNgReader(source, intake);
            reader.Read();
            return new CaptureFacts(CaptureFormat.PcapNg, "pcapng", reader.Packets, "packet") { SawCan = reader.SawCan, TimeText = "as stamped when captured" };
        }

        if (PcapReader.Starts(source.Window))
        {
            var reader = new PcapReader(source, intake);
            reader.Read();
            return new CaptureFacts(CaptureFormat.Pcap, "pcap", reader.Packets, "packet") { SawCan = reader.SawCan, TimeText = "as stamped when captured" };
        }

        return TextCapture.Read(ref source, path, intake, diagnostics, options.Layout);
    }

    private static bool Judge(CaptureFacts facts, string path, FrameIntake intake, DiagnosticBag diagnostics)
    {
        var start = Span.Start(path);
        if (intake.Entries > 0)
            return true;
        bool foreign = !facts.SawCan || intake.Oddities.Count(OddityKind.ForeignPacket) > 0;
        if (foreign && facts.Items > 0)
        {
            diagnostics.Add(Codes.NoCan, start, $"none of the {facts.Items} packets comes from a CAN bus", "capture on a CAN interface");
            return false;
        }

        diagnostics.Add(Codes.NoFrames, start, facts.Items is 0 ? "the capture holds no packet" : $"none of the {facts.Items} {facts.Word}s gave a frame", "check that the logger was connected and that its bit rate was right");
        return true;
    }

    private static CaptureSummary Summary(CaptureFacts facts, string path, FrameIntake intake) => new()
    {
        Path = path,
        Format = facts.Format,
        FormatText = facts.Text,
        Buses = intake.Buses,
        Items = facts.Items,
        ItemWord = facts.Word,
        HasTime = facts.HasTime,
        TimeText = IsSince1970(intake.FirstNs) ? $"{facts.TimeText}, counted from 1970" : facts.TimeText,
        FirstNs = intake.FirstNs,
        LastNs = intake.PreviousNs,
        Columns = facts.Columns,
        Oddities = intake.Oddities.All,
    };

    private static bool IsSince1970(long ns) => TimeJudge.Epoch(ns) is Model.TimeUnit.Nanoseconds;
}
