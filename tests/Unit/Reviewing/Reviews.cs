using Locum.Pipeline;
using Locum.Reviewing;

namespace Locum.Tests.Unit.Reviewing;

/// <summary>Reviews of texts.</summary>
internal static class Reviews
{
    /// <summary>A description with something of everything.</summary>
    public const string Valid = """
        locum: 1
        module: seat
        summary: A seat
        hazard: none
        buses:
          body: {rate: 500 kbit/s, sample point: 87.5 %}
          seat: {rate: 250 kbit/s}
        inputs:
          run-line: {kind: wake line, active: high, debounce: 20 ms}
          door: {active: low}
        receives:
          Drive: {bus: body, id: 0x155, timeout: 200 ms, fields: {speed: {bit: 8, bits: 12, scale: 0.05, unit: km/h}}}
          Brake: {bus: seat, id: 0x156, fields: {pressure: {bit: 0, bits: 8}}}
        modes:
          asleep: {sleep: yes, until: {run-line: active, then: waking}}
          waking: {for: 120 ms, then: running}
          running:
            until:
              - {run-line: inactive, then: asleep}
              - {Drive.speed: {at least: 90}, then: fast}
          fast: {for: 2 s, then: running}
        counters:
          pair: {to: 255}
        frames:
          Status:
            bus: body
            id: 0x2D1
            length: 8
            every: 20 ms
            offset: 7 ms
            in: [waking, running]
            base: 00 00 3C 7F 00 00 F0 00
            fields:
              state: {bit: 0, bits: 3, names: {off: 0, on: 4}, value: {waking: 1, running: on}}
              target: {bit: 16, bits: 8, scale: 0.5, offset: -40, unit: degC, value: 21.0}
              echo: {bit: 24, bits: 12, follow: {from: Drive.speed, gain: 20}, lost: 0}
              alive: {bit: 52, bits: 4, counter: {from: 0, to: 14}}
              guard: {bit: 56, bits: 8, checksum: {rule: crc8-sae-j1850, over: 0..6, with: [id low byte]}}
          Event:
            bus: seat
            id: 0x18F0A42B
            length: 4
            on: [{input: door, after: 5 ms}]
            repeat: 3
            spacing: 10 ms
            fields:
              count: {bit: 0, bits: 8, counter: pair}
              level: {bit: 8, bits: 8, value: 5}
        """;

    /// <summary>The review of two descriptions as its lines of text.</summary>
    public static IReadOnlyList<string> Lines(string before, string after)
    {
        var writer = new StringWriter();
        ReviewText.Write(writer, Of(before, after));
        return [.. writer.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries)];
    }

    /// <summary>The review of two texts of the same kind.</summary>
    public static Review Of(string before, string after)
    {
        using var folder = new TempFolder();
        Directory.CreateDirectory(folder.Path("old"));
        Directory.CreateDirectory(folder.Path("new"));
        File.WriteAllText(folder.Path("old", "seat.yaml"), before);
        File.WriteAllText(folder.Path("new", "seat.yaml"), after);
        return Review.Of(Load(folder.Path("old", "seat.yaml")), Load(folder.Path("new", "seat.yaml")));
    }

    /// <summary>False for layouts of captures, which are no part of a firmware and which a review leaves out.</summary>
    public static bool Reviewed(string path) => !File.ReadLines(path).Any(line => line.StartsWith("layout:", StringComparison.Ordinal));

    public static Subject Load(string path)
    {
        var loaded = Loader.Load(path);
        return loaded.Diagnostics.HasErrors ? throw new InvalidOperationException(string.Join('\n', loaded.Diagnostics.Sorted.Select(d => $"{d.Span} {d.Message}"))) : Subject.Of(loaded)!;
    }
}
