using System.Diagnostics;
using System.Text.Json;
using Locum.Pages;
using Locum.Tests;
using Locum.Tests.Unit.Pages;

namespace Locum.Benchmarks;

/// <summary>Report pages of the demo, of 1 and of 200 frames: time to write, size, elements, time to load in headless Chromium.</summary>
internal static class ReportRun
{
    public static int Print()
    {
        var folder = Directory.CreateTempSubdirectory("locum-report-");
        try
        {
            Of("demo", Inputs.Demo, folder.FullName);
            foreach (var frames in new[] { 1, 200 })
            {
                var path = Path.Combine(folder.FullName, $"frames-{frames}.yaml");
                File.WriteAllText(path, ManyFrames.Text(frames));
                Of($"{frames} frames", path, folder.FullName);
            }
        }
        finally
        {
            folder.Delete(recursive: true);
        }
        return 0;
    }

    private static void Of(string what, string path, string folder)
    {
        var page = Path.Combine(folder, "page.html");
        var clock = Stopwatch.StartNew();
        Run("dotnet", [typeof(ReportPage).Assembly.Location, "report", path, "--out", page]);
        var written = clock.ElapsedMilliseconds;
        var look = JsonDocument.Parse(Run("node", [RepoRoot.Path("tests", "page", "look.mjs"), page, "--load"])).RootElement;
        Console.WriteLine($"{what}: written in {written} ms, {new FileInfo(page).Length / 1024} KiB, {look.GetProperty("elements").GetInt32()} elements, loaded in {look.GetProperty("loadMs").GetInt32()} ms");
    }

    private static string Run(string program, IEnumerable<string> arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(program, arguments) { RedirectStandardOutput = true, RedirectStandardError = true })!;
        process.ErrorDataReceived += (_, _) => { };
        process.BeginErrorReadLine();
        var output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return process.ExitCode is 0 ? output : throw new InvalidOperationException($"{program} ended with {process.ExitCode}");
    }
}
