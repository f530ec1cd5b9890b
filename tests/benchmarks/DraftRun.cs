using System.Diagnostics;
using Locum.Capture;
using Locum.Drafting;
using Locum.Inference;
using Locum.Wire;

namespace Locum.Benchmarks;

/// <summary>Drafts from five million synthetic frames of 120 identifiers on two buses, in memory: seconds and peak memory.</summary>
internal static class DraftRun
{
    private const int Frames = 5_000_000;
    private const int Identifiers = 120;
    private const int Chosen = 12;
    private const uint FirstId = 0x100;

    private static readonly int[] s_periodsMs = [10, 10, 20, 20, 50, 100, 100, 200, 500, 1000];

    public static int Print()
    {
        var clock = Stopwatch.StartNew();
        var recording = Record();
        Console.WriteLine($"{recording.FrameCount:N0} frames, {recording.Series.Count} identifiers, {recording.DurationUs / 1e6:N0} s; kept in memory in {clock.Elapsed.TotalSeconds:0.0} s");
        foreach (int count in (int[])[1, Chosen, Identifiers])
        {
            clock.Restart();
            var busy = Process.GetCurrentProcess().TotalProcessorTime;
            var findings = ModuleInference.Find(recording, [.. recording.Series.Take(count)]);
            var draft = Drafter.Write(findings, new DraftOptions { Name = "measured", Source = "made up" });
            double frames = recording.Series.Take(count).Sum(s => (double)s.Count);
            Console.WriteLine($"{count,4} identifiers drafted, {frames,12:N0} frames of their own: {clock.Elapsed.TotalSeconds,6:0.0} s, {(Process.GetCurrentProcess().TotalProcessorTime - busy).TotalSeconds,6:0.0} s of the processors, {draft.Facts.Count,5} facts; peak {Process.GetCurrentProcess().PeakWorkingSet64 / 1048576.0,6:N0} MiB");
        }
        return 0;
    }

    // Every second identifier has a counter and a CRC-8, every third a value that wanders.
    private static Recording Record()
    {
        var crc = CrcCatalogue.Find("crc8-sae-j1850") ?? throw new InvalidOperationException("the rule has gone");
        var builder = new RecordingBuilder();
        var random = new Random(1);
        var due = new PriorityQueue<int, long>();
        var count = new int[Identifiers];
        var walk = new int[Identifiers];
        for (int i = 0; i < Identifiers; i++)
            due.Enqueue(i, i * 137L);
        var data = new byte[8];
        for (int n = 0; n < Frames; n++)
        {
            due.TryDequeue(out int i, out long time);
            due.Enqueue(i, time + (s_periodsMs[i % s_periodsMs.Length] * 1000L));
            Array.Clear(data);
            data[0] = (byte)i;
            if (i % 3 is 0)
                (data[3], data[4]) = ((byte)(walk[i] += random.Next(3) - 1), (byte)(walk[i] >> 8));
            if (i % 2 is 0)
            {
                data[6] = (byte)(count[i]++ % 15);
                data[7] = (byte)Crc.Compute(crc, data.AsSpan(0, 7));
            }
            builder.Take(new CaptureFrame((time + random.Next(200)) * 1000, i % 2, FirstId + (uint)i, FrameTraits.None, 8), data);
        }
        return builder.Build(["body", "drive"]);
    }
}
