using Locum.Inference;
using Locum.Inference.Counting;
using Locum.Inference.Payload;
using Locum.Inference.Timing;
using Xunit;

namespace Locum.Tests.Unit.Inference;

/// <summary>Synthetic payloads that count.</summary>
public sealed class CounterFinderTests
{
    private readonly Random _random = new(42);

    [Theory]
    [InlineData(0, 2, false, 0u, 3u, 1u)]
    [InlineData(4, 4, false, 0u, 14u, 1u)]
    [InlineData(2, 4, false, 0u, 15u, 1u)]
    [InlineData(20, 4, false, 1u, 15u, 1u)]
    [InlineData(24, 8, false, 0u, 255u, 1u)]
    [InlineData(24, 8, false, 0u, 250u, 1u)]
    [InlineData(8, 8, false, 255u, 0u, 5u)]
    [InlineData(6, 4, false, 0u, 14u, 1u)]
    [InlineData(40, 16, true, 0u, 300u, 1u)]
    [InlineData(32, 16, false, 0u, 300u, 1u)]
    [InlineData(0, 12, false, 400u, 0u, 4u)]
    [InlineData(16, 3, false, 7u, 0u, 1u)]
    [InlineData(13, 1, false, 0u, 1u, 1u)]
    public void Every_width_and_place_is_found(int bit, int bits, bool big, uint from, uint to, uint step)
    {
        var place = new FieldPlace(bit, bits, big);
        var rule = new CounterRule(from, to, step);
        ulong value = from;
        var found = Find(800, (_, data) =>
        {
            place.Write(data, value);
            value = rule.Next(value);
            data[7] = (byte)_random.Next(256);
        });

        var counter = Assert.Single(found);
        // A counter whose step is a multiple of 2^n is one with fewer bits higher up; on the wire they are the same.
        int shift = System.Numerics.BitOperations.TrailingZeroCount(step);
        Assert.Equal(place.Bit + shift, counter.Place.Bit);
        Assert.Equal(rule.Count, counter.Rule.Count);
        Assert.Equal((from >> shift, to >> shift), (counter.Rule.From, counter.Rule.To));
        Assert.Equal((Confidence.Certain, 0), (counter.Confidence, counter.Evidence.Contradictions));
    }

    [Fact]
    public void Random_payloads_hold_no_counter() => Assert.Empty(Find(400, (_, data) => _random.NextBytes(data)));

    [Fact]
    public void Missing_frames_are_no_contradiction()
    {
        var frames = new Synthetic().Every(0x100, 400, 20_000, i => [(byte)(i % 15), 0x55], lost: i => i % 11 is 7);
        var recording = frames.Record();
        var sending = SendingFinder.Find(recording.Series[0], recording.Parts, 1);
        var counter = Assert.Single(CounterFinder.Find(Payloads.Of(recording.Series[0], sending.Steps), _ => false));

        Assert.Equal((new CounterRule(0, 14, 1), 0), (counter.Rule, counter.Evidence.Contradictions));
    }

    [Fact]
    public void A_reset_contradicts_once_and_makes_it_likely()
    {
        var counter = Assert.Single(Find(500, (i, data) => data[2] = (byte)((i < 300 ? i : i + 77) % 256)));

        Assert.Equal((new FieldPlace(16, 8), 1, Confidence.Likely), (counter.Place, counter.Evidence.Contradictions, counter.Confidence));
    }

    [Fact]
    public void Few_frames_make_it_possible_and_no_round_makes_it_likely_at_most()
    {
        Assert.Equal(Confidence.Possible, Assert.Single(Find(5, (i, data) => data[1] = (byte)i)).Confidence);
        var counter = Assert.Single(Find(100, (i, data) => data[1] = (byte)(40 + i)));
        Assert.Equal((Confidence.Likely, 0), (counter.Confidence, counter.Rounds));
    }

    // A sum over a payload in which only the counter changes counts as well.
    [Fact]
    public void Of_two_that_move_together_the_less_usual_one_is_only_possible()
    {
        var payloads = Made(300, (i, data) => (data[1], data[7]) = ((byte)(i % 15), (byte)(0x50 + (i % 15))));
        var marked = CounterPairs.Mark(payloads, CounterFinder.Find(payloads, _ => false));

        Assert.Equal([(8, Confidence.Certain), (56, Confidence.Possible)], marked.Select(c => (c.Place.Bit, c.Confidence)));
        Assert.Equal(new FieldPlace(8, 4), marked[1].MovesWith);
    }

    [Fact]
    public void A_counter_beside_a_state_that_seldom_changes_keeps_its_width()
    {
        var counter = Assert.Single(Find(600, (i, data) => data[0] = (byte)((i % 16) | (i > 20 ? 0x10 : 0) | (i > 300 ? 0x20 : 0))));

        Assert.Equal(new FieldPlace(0, 4), counter.Place);
    }

    [Theory]
    [InlineData(5, 16)]
    [InlineData(2, 250)]
    [InlineData(10, 4)]
    public void A_counter_that_moves_with_every_nth_frame_is_found(int every, int count)
    {
        var payloads = Made(1_500, (i, data) => (data[3], data[6]) = ((byte)(i / every % count), (byte)_random.Next(256)));
        var counter = Assert.Single(SlowCounterFinder.Find(payloads, BitActivity.Of(payloads), _ => false));

        Assert.Equal((every, 24, (ulong)count - 1), (counter.Every, counter.Place.Bit, counter.Rule.To));
        Assert.Equal(0, counter.Evidence.Contradictions);
    }

    [Fact]
    public void A_counter_that_two_frames_share_counts_evenly_only_in_both()
    {
        int count = 0;
        var frames = new Synthetic();
        // 20 and 50 ms: the first shows steps of one, two and three.
        for (int ms = 0; ms < 10_000; ms++)
        {
            if (ms % 20 is 0)
                frames.Add(ms * 1000, 0x100, 7, (byte)(count++ % 256));
            if (ms % 50 is 3)
                frames.Add(ms * 1000, 0x200, 9, 9, (byte)(count++ % 256));
        }
        var recording = frames.Record();
        var (a, b) = (Plain(recording.Series[0]), Plain(recording.Series[1]));
        var shared = SharedCounterFinder.Find(a, Candidates(a), b, Candidates(b))!.Value;

        Assert.Equal((new FieldPlace(8, 8), new FieldPlace(16, 8), false), (shared.A, shared.B, shared.Alternate));
        Assert.Equal((new CounterRule(0, 255, 1), Confidence.Certain), (shared.Rule, shared.Evidence.Confidence));
        Assert.Empty(CounterFinder.Find(a, _ => false));

        static IReadOnlyList<FieldPlace> Candidates(Payloads p) => SharedCounterFinder.Candidates(p, BitActivity.Of(p), CounterFinder.Find(p, _ => false), _ => false);
    }

    private static IReadOnlyList<CounterFinding> Find(int count, Action<int, byte[]> fill) => CounterFinder.Find(Made(count, fill), _ => false);

    private static Payloads Made(int count, Action<int, byte[]> fill) => Plain(new Synthetic().Every(0x100, count, 20_000, i =>
    {
        var data = new byte[8];
        fill(i, data);
        return data;
    }).Series());

    private static Payloads Plain(Locum.Capture.FrameSeries series) => Payloads.Of(series, SteadyNumber.StepsByRun(series));
}
