using Locum.Capture;
using Locum.Diagnostics;
using Locum.Inference.Checksums;
using Locum.Model;
using Locum.Planning;
using Locum.Simulation;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Inference.Checksums;

/// <summary>
/// Synthetic captures: frames that the project's own simulator sends from a description. What a search finds is written
/// into the description in place of the original, and must send the same bytes.
/// </summary>
internal sealed record Sent(CanId Id, IReadOnlyList<byte[]> Payloads)
{
    /// <summary>The frames as a series.</summary>
    public FrameSeries Series => Of(Id, Payloads);

    /// <summary>What the simulator sends of a frame with these keys, one frame every 10 ms.</summary>
    public static Sent Frame(string keys, int frames = 300)
    {
        string text = $"locum: 1\nmodule: synthetic\nhazard: none\nbuses: {{body: {{rate: 500 kbit/s, data rate: 4 Mbit/s}}}}\nframes:\n  F: {{every: 10 ms, {keys}}}\n";
        var (module, found) = Descriptions.Bind(text);
        Assert.True(found.Count is 0, string.Join('\n', found.Select(f => f.Message)) + "\n" + text);
        var bag = new DiagnosticBag();
        var plan = BoardPlanner.Plan(BoardPlanner.Alone(module), bag);
        Assert.Empty(bag.Sorted);
        var sent = Simulator.Run([plan!], new Stimulus { EndUs = (frames * 10_000L) - 5_000 }).Frames;
        return new Sent(sent[0].Id, [.. sent.Select(f => f.Data)]);
    }

    /// <summary>
    /// Fields for the bytes of a frame that are free: slow ramps and noise by turns, and a counter "alive" in the low
    /// nibble of the byte <paramref name="counter"/>.
    /// </summary>
    public static string Moving(int length, IEnumerable<int> taken, int counter, int last = 15)
    {
        var fields = Enumerable.Range(0, length).Except(taken).Where(b => b != counter).Select(b => $"s{b}: {{bit: {8 * b}, bits: 8, {Motion(b)}}}");
        return string.Join(", ", fields.Append($"alive: {{bit: {8 * counter}, bits: 4, counter: {{to: {last}}}}}"));
    }

    private static string Motion(int index) => index % 2 is 0
        ? $"ramp: {{from: {3 * index}, to: {3 * index + 61}, over: {900 + (300 * index)} ms, then: back}}"
        : $"noise: {{around: {90 + index}, span: {(index % 3 * 40) + 6}, seed: {index + 1}}}";

    /// <summary>A series of these payloads, 10 ms apart.</summary>
    public static FrameSeries Of(CanId id, IEnumerable<byte[]> payloads)
    {
        var builder = new RecordingBuilder();
        long time = 0;
        foreach (var payload in payloads)
        {
            var traits = (id.Extended ? FrameTraits.Extended : 0) | (payload.Length > 8 ? FrameTraits.Fd : 0);
            builder.Take(new CaptureFrame(time, 0, id.Value, traits, (byte)payload.Length), payload);
            time += 10_000_000;
        }

        return Assert.Single(builder.Build(["body"]).Series);
    }

    /// <summary>The one finding to believe; all payloads, those behind the first <paramref name="seen"/> included, must satisfy it.</summary>
    public ChecksumFinding Find(int seen)
    {
        var result = ChecksumSearch.Find(Of(Id, Payloads.Take(seen)));
        var finding = Assert.Single(result.Chosen);
        Assert.All(Payloads, p => Assert.True(finding.Check(p), $"{finding.FieldText()} does not hold for {Convert.ToHexString(p)}"));
        return finding;
    }
}
