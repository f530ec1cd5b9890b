using BenchmarkDotNet.Attributes;
using Locum.Capture;
using Locum.Diagnostics;

namespace Locum.Benchmarks;

/// <summary>Reading captures from memory, beside a scan for line ends.</summary>
[MemoryDiagnoser]
[ShortRunJob]
public class CaptureBenchmarks
{
    private const int Frames = 100_000;

    private byte[] _bytes = [];

    [ParamsSource(nameof(Forms))]
    public string Form { get; set; } = "";

    public static IReadOnlyList<string> Forms => CaptureInputs.Forms;

    [GlobalSetup]
    public void Setup() => _bytes = CaptureInputs.Write(Form, Frames);

    [Benchmark(Baseline = true)]
    public long Scan_for_line_ends() => CaptureRates.Scan(new MemoryStream(_bytes));

    [Benchmark]
    public long Read_entries()
    {
        var sink = new CountingSink();
        CaptureReader.Read(new MemoryStream(_bytes), "memory", sink, new DiagnosticBag());
        return sink.Entries;
    }

    [Benchmark]
    public long Read_into_memory()
    {
        var builder = new RecordingBuilder();
        var summary = CaptureReader.Read(new MemoryStream(_bytes), "memory", builder, new DiagnosticBag());
        return builder.Build([.. summary!.Buses.Select(b => b.Name)]).FrameCount;
    }
}
