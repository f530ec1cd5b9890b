using System.Globalization;
using System.Text;
using BenchmarkDotNet.Attributes;
using Locum.Capture;
using Locum.Inference.Checksums;
using Locum.Model;
using Locum.Pipeline;
using Locum.Simulation;

namespace Locum.Benchmarks;

/// <summary>
/// The checksum search over a synthetic capture of 100 identifiers: half of them without a checksum, moving bytes, some
/// standing still; 60 s by the simulator. The goal is 1 s on two cores.
/// </summary>
[MemoryDiagnoser]
[ShortRunJob]
public class ChecksumBenchmarks
{
    private static readonly string[] s_guards =
    [
        "",
        "guard: {bit: 56, bits: 8, checksum: {rule: crc8-sae-j1850}}",
        "",
        "guard: {bit: 56, bits: 8, checksum: {rule: sum, with: [id high byte, id low byte]}}",
        "",
        "guard: {bit: 56, bits: 8, checksum: {rule: crc8-autosar, with: [{secret: 3A 91 0C 5E 77 00 FF 12 13 14 C5 C6 D7 E8 F9 0A}]}}",
        "",
        "guard: {bit: 48, bits: 16, checksum: {rule: crc16-ibm-3740, with: [id low byte, id high byte]}}",
    ];

    private IReadOnlyList<FrameSeries> _series = [];

    [GlobalSetup]
    public void Setup()
    {
        var text = new StringBuilder("locum: 1\nmodule: checksums\nsummary: a hundred frames\nhazard: none\nbuses:\n  body: {rate: 1000 kbit/s}\nframes:\n");
        for (var i = 0; i < 100; i++)
        {
            var moving = string.Join(", ", Enumerable.Range(0, i % 5).Select(b => $"s{b}: {{bit: {8 * (b + 1)}, bits: 8, noise: {{around: 90, span: {3 + (i % 30)}, seed: {i + b + 1}}}}}"));
            text.Append(CultureInfo.InvariantCulture, $"  F{i}: {{id: 0x{0x100 + (7 * i):X}, length: 8, every: {20 + (10 * (i % 9))} ms, offset: {i * 300 % 20_000} us, fields: {{alive: {{bit: 0, bits: 4, counter: {{}}}}, {moving}{(moving.Length > 0 ? ", " : "")}{s_guards[i % s_guards.Length]}}}}}\n");
        }

        var path = Path.Combine(Path.GetTempPath(), $"locum-checksums-{Environment.ProcessId}.yaml");
        File.WriteAllText(path, text.ToString());
        try
        {
            var loaded = Loader.Load(path);
            if (loaded.Diagnostics.HasErrors)
                throw new InvalidOperationException(loaded.Diagnostics.Sorted[0].Message);
            var builder = new RecordingBuilder();
            foreach (var frame in Simulator.Run([loaded.Plans[0]], new Stimulus { EndUs = 60_000_000 }).Frames)
                builder.Take(new CaptureFrame((long)(frame.EndUs * 1000), 0, frame.Id.Value, FrameTraits.None, (byte)frame.Data.Length), frame.Data);
            _series = builder.Build(["body"]).Series;
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Benchmark]
    public int Checksums_of_100_identifiers() => ChecksumSearch.FindAll(_series).Count(r => r.Chosen.Count > 0);
}
