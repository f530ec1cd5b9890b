using System.Diagnostics;
using Locum.Capture;
using Locum.Diagnostics;
using Locum.Tests.Unit.Capture;

namespace Locum.Benchmarks;

/// <summary>Memory while a stream of 10 GiB is read that is made on the way.</summary>
internal static class CaptureMemory
{
    private const long Length = 10L << 30;
    private const long Step = 1L << 30;

    public static int Print()
    {
        foreach (string form in (string[])["text log", "table, columns", "pcap"])
        {
            var whole = CaptureInputs.Write(form, 100_000);
            int head = form is "pcap" ? 24 : form is "text log" ? 0 : Array.IndexOf(whole, (byte)'\n') + 1;
            Console.WriteLine($"{form}: working set in MiB after each GiB");
            long next = Step;
            var options = new CaptureOptions
            {
                Progress = (done, _) =>
                {
                    if (done < next)
                        return;
                    next += Step;
                    Console.Write($" {Process.GetCurrentProcess().WorkingSet64 >> 20}");
                },
            };
            var before = GC.GetTotalAllocatedBytes();
            var summary = CaptureReader.Read(new Repeated(whole[..head], whole[head..], Length), form, new CountingSink(), new DiagnosticBag(), options)!;
            Console.WriteLine($"\n  {summary.Entries:N0} entries, {(GC.GetTotalAllocatedBytes() - before) >> 10:N0} KiB allocated in all");
        }

        return 0;
    }
}
