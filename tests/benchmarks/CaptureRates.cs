using System.Diagnostics;
using System.Globalization;
using Locum.Capture;
using Locum.Diagnostics;

namespace Locum.Benchmarks;

/// <summary>
/// Reading captures from files beside a bare scan for line ends and beside tshark on the same files, taken in turns in one
/// run. Seconds are those of the processor, so that other work on the machine counts less.
/// </summary>
internal static class CaptureRates
{
    private const int Frames = 2_000_000;
    private const int FewFrames = 100_000;
    private const int Rounds = 7;
    private const int Part = 256 * 1024;

    // tshark reads these.
    private static readonly string[] s_common = ["text log", "pcap", "pcapng"];

    public static int Print()
    {
        Console.WriteLine($"{"form",-16}{"bytes/frame",12}{"MB/s",8}{"ns/frame",10}{"of scan",9}{"in memory",11}{"x tshark",10}");
        using var folder = new Folder();
        foreach (string form in CaptureInputs.Forms)
            Line(form, folder);
        return 0;
    }

    /// <summary>Counts line ends, one after the other, through a buffer as large as the reader's.</summary>
    public static long Scan(Stream stream)
    {
        var buffer = new byte[Part];
        long lines = 0;
        for (int read; (read = stream.Read(buffer)) > 0;)
        {
            var rest = buffer.AsSpan(0, read);
            for (int end; (end = rest.IndexOf((byte)'\n')) >= 0; rest = rest[(end + 1)..])
                lines++;
        }

        return lines;
    }

    private static void Line(string form, Folder folder)
    {
        // Packets have no lines: they are held against the scan of the text log with as many frames.
        string path = folder.Write(form, Frames);
        string scanned = form.StartsWith("pcap", StringComparison.Ordinal) ? folder.Write("text log", Frames) : path;
        var scans = new List<double>();
        var reads = new List<double>();
        var loads = new List<double>();
        for (int round = 0; round < Rounds; round++)
        {
            scans.Add(Own(() => Scan(new FileStream(scanned, FileMode.Open, FileAccess.Read, FileShare.Read, 0))));
            reads.Add(Own(() => CaptureReader.Read(path, new CountingSink(), new DiagnosticBag())));
            loads.Add(Own(() => CaptureReader.Load(path, new DiagnosticBag())));
        }

        double bytes = new FileInfo(path).Length;
        double read = Median(reads);
        string shark = s_common.Contains(form) ? $"{Shark(form, folder) / (read / Frames):0}" : "-";
        Console.WriteLine($"{form,-16}{bytes / Frames,12:0.0}{bytes / read / 1e6,8:0}{read / Frames * 1e9,10:0.0}{Median(scans) / read,9:0.00}{Median(loads) / Frames * 1e9,8:0.0} ns{shark,10}");
        File.Delete(path);
    }

    // Seconds of tshark for a frame, its start left out.
    private static double Shark(string form, Folder folder)
    {
        string few = folder.Write(form, 1);
        double start = Median([.. Enumerable.Range(0, 3).Select(_ => Tshark(few))]);
        string many = folder.Write(form, FewFrames);
        double all = Median([.. Enumerable.Range(0, 3).Select(_ => Tshark(many))]);
        return (all - start) / FewFrames;
    }

    private static double Tshark(string path)
    {
        double before = Children();
        using var process = Process.Start(new ProcessStartInfo("tshark", ["-n", "-r", path, "-T", "fields", "-e", "frame.time_epoch", "-e", "can.id", "-e", "can.len", "-e", "data.data"])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        })!;
        process.ErrorDataReceived += (_, _) => { };
        process.BeginErrorReadLine();
        Scan(process.StandardOutput.BaseStream);
        process.WaitForExit();
        return process.ExitCode is 0 ? Children() - before : throw new InvalidOperationException("tshark failed");
    }

    // Processor seconds of programs that this one has started and that have ended (Linux: proc(5), fields 16 and 17 in ticks of 10 ms).
    private static double Children()
    {
        var fields = File.ReadAllText("/proc/self/stat").Split(')')[^1].Split(' ', StringSplitOptions.RemoveEmptyEntries);
        return (long.Parse(fields[13], CultureInfo.InvariantCulture) + long.Parse(fields[14], CultureInfo.InvariantCulture)) / 100.0;
    }

    private static double Own(Action action)
    {
        var before = Environment.CpuUsage.TotalTime;
        action();
        return (Environment.CpuUsage.TotalTime - before).TotalSeconds;
    }

    private static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);

    private sealed class Folder : IDisposable
    {
        private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("locum-captures-");

        public string Write(string form, int frames)
        {
            string path = Path.Combine(_folder.FullName, $"{form.Replace(' ', '-').Replace(",", "", StringComparison.Ordinal)}-{frames}");
            if (!File.Exists(path))
                File.WriteAllBytes(path, CaptureInputs.Write(form, frames));
            return path;
        }

        public void Dispose() => _folder.Delete(recursive: true);
    }
}
