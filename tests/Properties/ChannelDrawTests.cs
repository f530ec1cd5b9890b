using Locum.Simulation;
using Xunit;
using Xunit.Abstractions;

namespace Locum.Tests.Properties;

/// <summary>Drawn testers really reach what a channel can do; otherwise the proofs would say little about channels.</summary>
public sealed class ChannelDrawTests(ITestOutputHelper log)
{
    private const int Drawn = 300;

    private static readonly string[] s_kinds =
    [
        "single frame", "single frame of more than 8 bytes", "first frame", "consecutive frame of more than 8 bytes", "numbers wrapped", "flow control", "overflow",
        "answer of many frames, complete", "answer of many frames, cut", "positive answer", "negative answer", "response pending", "never left its controller", "release dropped",
    ];

    [Fact]
    public void Drawn_testers_get_answers_of_every_kind()
    {
        var counts = new SortedDictionary<string, int>(s_kinds.ToDictionary(k => k, _ => 0), StringComparer.Ordinal);
        Cases.Run(log, new DescriptionGen(), Drawn, project =>
        {
            if (!project.Modules.Any(m => m.Contains("diagnostics:", StringComparison.Ordinal)))
                return;
            var loaded = project.Load();
            foreach (var answer in loaded.Plan.Frames.Where(f => f.Frame.IsAnswer))
                foreach (var stimulus in loaded.Stimuli)
                {
                    var result = Simulator.Run([loaded.Plan], stimulus);
                    if (result.Skipped[0][answer.Row] > 0)
                        counts["release dropped"]++;
                    Count(counts, [.. result.Frames.Where(f => f.Sender == answer.Sender && f.Id == answer.Frame.Id).OrderBy(f => f.AcceptedUs)]);
                }
        });
        foreach (var (what, count) in counts)
            log.WriteLine($"{what}: {count}");
        if (!Cases.Whole)
            return;
        Assert.All(counts, c => Assert.True(c.Value > 0, $"'{c.Key}' was never reached"));
        Assert.True(counts["answer of many frames, complete"] > 100, "answers of many frames are too rare");
    }

    private static void Count(SortedDictionary<string, int> counts, IReadOnlyList<SentFrame> frames)
    {
        var missing = 0;
        foreach (var frame in frames)
        {
            var data = frame.Data;
            if (frame.EndUs < 0)
                counts["never left its controller"]++;
            switch (data[0] >> 4)
            {
                case 0:
                    Cut();
                    counts["single frame"]++;
                    if (data.Length > 8)
                        counts["single frame of more than 8 bytes"]++;
                    Answer(data.AsSpan(data[0] is 0 ? 2 : 1));
                    break;
                case 1:
                    Cut();
                    counts["first frame"]++;
                    missing = ((data[0] & 0xF) << 8 | data[1]) - (data.Length - 2);
                    Answer(data.AsSpan(2));
                    break;
                case 2:
                    if (data.Length > 8)
                        counts["consecutive frame of more than 8 bytes"]++;
                    if (data[0] is 0x20)
                        counts["numbers wrapped"]++;
                    missing -= data.Length - 1;
                    if (missing <= 0)
                        counts["answer of many frames, complete"]++;
                    break;
                default:
                    counts[data[0] is 0x30 ? "flow control" : "overflow"]++;
                    break;
            }
        }

        void Cut()
        {
            if (missing > 0)
                counts["answer of many frames, cut"]++;
            missing = 0;
        }

        void Answer(ReadOnlySpan<byte> answer)
        {
            if (answer[0] is not 0x7F)
                counts["positive answer"]++;
            else
                counts[answer[2] is 0x78 ? "response pending" : "negative answer"]++;
        }
    }
}
