using Locum.Comparing;
using Locum.Tests.Unit.Capture;
using Locum.Wire;

namespace Locum.Tests.Unit.Comparing;

/// <summary>Captures made line by line.</summary>
internal static class Garage
{
    public const long Second = 1_000_000;

    /// <summary>A capture of one bus.</summary>
    public static NamedCapture Of(string name, params IEnumerable<LogEntry>[] parts) => On(name, ["b"], parts);

    public static NamedCapture On(string name, IReadOnlyList<string> buses, params IEnumerable<LogEntry>[] parts) =>
        new(name, Recordings.Of([.. parts.SelectMany(p => p)], buses));

    /// <summary>Frames of one period.</summary>
    /// <param name="data">Payload by number; null for one zero byte.</param>
    public static IEnumerable<LogEntry> Every(uint id, long periodUs, double seconds, double from = 0, Func<int, byte[]>? data = null, string bus = "b", bool extended = false, Func<int, long>? late = null)
    {
        var number = 0;
        for (var time = (long)(from * Second); time < seconds * Second; time += periodUs)
        {
            yield return new LogEntry(time + (late?.Invoke(number) ?? 0), bus, new CanId(id, extended), data?.Invoke(number) ?? [0]);
            number++;
        }
    }

    public static IEnumerable<LogEntry> At(uint id, params double[] seconds) =>
        seconds.Select(s => new LogEntry((long)(s * Second), "b", new CanId(id, false), [1]));

    /// <summary>"Missing 0x100 Certain", one for each difference in its order.</summary>
    public static List<string> Words(Comparison comparison) => [.. comparison.Differences.Select(d => $"{d.Kind} {d.Id} {d.Confidence}")];
}
