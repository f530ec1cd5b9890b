using Locum.Inference;
using Locum.Inference.Relations;
using Locum.Inference.Timing;
using Locum.Inference.Transport;
using Xunit;

namespace Locum.Tests.Unit.Inference;

/// <summary>Synthetic requests and answers, and segments of longer messages.</summary>
public sealed class RelationTests
{
    private readonly Random _random = new(11);

    [Fact]
    public void Answers_are_found_with_their_delay()
    {
        var frames = Noise();
        for (int i = 0; i < 12; i++)
        {
            double at = 900_000 + (i * 610_000) + (_random.NextDouble() * 300_000);
            frames.Add(at, 0x640, (byte)i).Add(at + 3_200 + (_random.NextDouble() * 100), 0x642, 1);
        }
        var found = Answer(frames)!;

        Assert.Equal(0x640u, found.Request.Id.Value);
        Assert.InRange(found.AfterUs, 3_200, 3_300);
        Assert.Equal((Confidence.Certain, 24, 0), (found.Evidence.Confidence, found.Evidence.Tested, found.Evidence.Contradictions));
    }

    [Fact]
    public void A_request_without_an_answer_contradicts()
    {
        var frames = Noise();
        for (int i = 0; i < 20; i++)
        {
            double at = 900_000 + (i * 400_000) + (_random.NextDouble() * 200_000);
            frames.Add(at, 0x640, (byte)i);
            if (i is not 7)
                frames.Add(at + 3_200, 0x642, 1);
        }
        var found = Answer(frames)!;

        Assert.Equal(1, found.Evidence.Contradictions);
        Assert.NotEqual(Confidence.Certain, found.Evidence.Confidence);
    }

    // Two clocks with one period: each frame comes after one of the other's.
    [Fact]
    public void Two_frames_with_one_period_do_not_answer_each_other() =>
        Assert.Null(Answer(Noise().Every(0x640, 100, 100_000, _ => [1]).Every(0x642, 100, 100_000, _ => [1], 4_000)));

    [Fact]
    public void Segments_of_ISO_15765_2_are_recognised()
    {
        // 20 bytes, as of an answer with a vehicle's number: first frame, two consecutive ones.
        var frames = new Synthetic();
        for (int i = 0; i < 5; i++)
        {
            frames.Add((i * 1e6) + 0, 0x7E8, 0x10, 0x14, 0x62, 0xF1, 0x90, 1, 2, 3);
            frames.Add((i * 1e6) + 10_000, 0x7E8, 0x21, 4, 5, 6, 7, 8, 9, 10);
            frames.Add((i * 1e6) + 20_000, 0x7E8, 0x22, 11, 12, 13, 14, 15, 16, 17);
        }
        var found = TransportFinder.Find(frames.Series(0x7E8))!;

        Assert.Equal((15, 5), (found.Frames, found.Messages));
        Assert.Null(TransportFinder.Find(new Synthetic().Every(0x100, 100, 20_000, i => [0x03, (byte)i, 0, 0]).Series()));
    }

    // A state in the low nibble of the first byte looks like single frames.
    [Fact]
    public void Numbers_of_segments_never_count_for_more_than_possible()
    {
        var frames = new Synthetic().Every(0x200, 400, 10_000, _ => [1]);
        double at = 0;
        for (int i = 0; i < 100; i++)
            frames.Add(at += 3_000 + (_random.NextDouble() * 90_000), 0x100, (byte)(0x20 | (i & 15)), 1, 2, 3, (byte)_random.Next(256), 5, 6, 7);
        var recording = frames.Record();
        var module = ModuleInference.Find(recording, [.. recording.Series.Where(s => s.Id.Value is 0x100)]);
        var counter = Assert.Single(module.Frames[0].Counters);

        Assert.Equal((true, Confidence.Possible), (counter.IsSequence, counter.Confidence));
    }

    [Fact]
    public void Unrelated_walks_follow_nothing()
    {
        var frames = new Synthetic();
        for (uint id = 0x200; id < 0x220; id++)
        {
            int value = 128;
            frames.Every(id, 400, 20_000, _ => [(byte)(value = Math.Clamp(value + _random.Next(3) - 1, 0, 255)), 0], id);
        }
        var recording = frames.Record();
        var sources = recording.Series.Skip(8).SelectMany(SourceFields.Of).ToList();
        foreach (var target in recording.Series.Take(8))
        {
            var payloads = Locum.Inference.Payload.Payloads.Of(target, SteadyNumber.StepsByRun(target));
            Assert.Null(new FollowFinder(sources, 1).Find(payloads, target, new FieldPlace(0, 8)));
        }
    }

    [Fact]
    public void Frames_between_the_periods_that_bring_a_change_are_told()
    {
        var frames = new Synthetic();
        int state = 0;
        for (int ms = 0; ms < 20_000; ms++)
        {
            if (ms % 1_313 is 700 && ms % 100 != 0)
                frames.Add(ms * 1_000, 0x100, (byte)(state ^= 1), 7);
            else if (ms % 100 is 0)
                frames.Add(ms * 1_000, 0x100, (byte)state, 7);
        }
        var recording = frames.Record();
        var found = ModuleInference.Find(recording, recording.Series).Frames[0];

        Assert.Equal((SendingKind.Cyclic, 100_000L), (found.Sending.Kind, found.Sending.NominalUs));
        Assert.Equal((found.Sending.Extra, 0), (found.Change!.Evidence.Hits, found.Change.Evidence.Contradictions));
        Assert.Equal([new FieldPlace(0, 1)], found.Change.Places);
        Assert.Equal(Confidence.Certain, found.Change.Evidence.Confidence);
    }

    private Synthetic Noise() => new Synthetic().Every(0x100, 900, 10_000, _ => [(byte)_random.Next(256)], 37).Every(0x155, 90, 100_000, _ => [1], 4_321);

    private static AnswerFinding? Answer(Synthetic frames)
    {
        var recording = frames.Record();
        var series = recording.Series.Single(s => s.Id.Value is 0x642);
        return AnswerFinder.Find(series, SendingFinder.Find(series, recording.Parts, 1), [.. recording.Series.Where(s => s != series)], recording.Parts, 1);
    }
}
