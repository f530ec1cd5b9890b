using Locum.Budgeting;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Budgeting;

public class ResponseAnalysisTests
{
    // Source: the example of three messages in Davis, Burns, Bril, Lukkien 2007 (from memory; recomputed): 125 kbit/s,
    // 7 bytes, 125 bits = 1 ms with the intermission. The analysis of 1994 looks at the first instance only, finds
    // 3 ms for C and calls it schedulable; its second instance takes 3.5 ms and misses 3.25 ms.
    [Fact]
    public void Three_messages_whose_later_instance_is_the_worst()
    {
        var found = ResponseAnalysis.Of([Message(1, 2_500, 2_500), Message(2, 3_500, 3_250), Message(3, 3_500, 3_250)], new BusConditions(8));

        Assert.Equal([2_000L, 3_000, 3_500], found.Select(r => r.WorstUs));
        Assert.Equal([true, true, false], found.Select(r => r.Meets));
        Assert.Equal([1_000L, 1_000, 0], found.Select(r => r.BlockingUs));
        Assert.Equal([1L, 2, 2], found.Select(r => r.Instances));
    }

    // Four messages of our own, by hand. D, the lowest: busy period 1+1+1+1 = 4 → A again (T 4 → 2 of it at t = 5) …
    // w(0) = 3: A, B, C in front, none again before 3 + one bit; R = 4.
    [Fact]
    public void Four_messages_by_hand()
    {
        var found = ResponseAnalysis.Of([Message(1, 4_000, 4_000), Message(2, 8_000, 8_000), Message(3, 8_000, 8_000), Message(4, 16_000, 16_000)], new BusConditions(8));

        Assert.Equal([2_000L, 3_000, 4_000, 4_000], found.Select(r => r.WorstUs));
    }

    // Source: class C benchmark of SAE after joining signals, 17 messages at 125 kbit/s, as remembered from papers that
    // go back to Tindell and Burns 1994 (from memory, attribution unconfirmed). Responses end with EOF. Of the lowest
    // message 29.520 ms is remembered and 29.496 ms computed; it is left out.
    [Fact]
    public void Class_C_benchmark()
    {
        int[] bytes = [1, 2, 1, 2, 1, 2, 6, 1, 2, 2, 1, 4, 1, 1, 3, 1, 1];
        int[] ms = [1000, 5, 5, 5, 5, 5, 10, 10, 10, 10, 100, 100, 100, 100, 1000, 1000, 1000];
        double[] remembered = [1.416, 2.016, 2.536, 3.136, 3.656, 4.256, 5.016, 8.376, 8.976, 9.576, 10.096, 19.096, 19.616, 20.136, 28.976, 29.496];
        var set = bytes.Select((b, i) =>
        {
            var longest = WireLength.Maximum(FrameFormat.Classic, false, b);
            return Message((uint)i + 1, ms[i] * 1000, ms[i] * 1000) with { WireUs = longest.TimeUs(125_000, null), SlotUs = longest.WithIntermission.TimeUs(125_000, null) };
        });

        var found = ResponseAnalysis.Of(set, new BusConditions(8));

        Assert.Equal(remembered, found.Take(16).Select(r => r.WorstUs!.Value / 1000.0));
        Assert.Equal(29.496, found[16].WorstUs!.Value / 1000.0);
        Assert.Equal(0.8574, set.Sum(s => s.WorstLoad), 0.0001);
    }

    // By hand: B + C + J; a second instance of the jittery A comes in front of the lower one.
    [Fact]
    public void Jitter_lengthens_its_own_response_and_brings_another_release()
    {
        var found = ResponseAnalysis.Of([Message(1, 2_500, 2_500) with { JitterUs = 600 }, Message(2, 10_000, 10_000)], new BusConditions(8));

        // A: 600 + 1000 + 1000. B: A, and A again at 2500 - 600 = 1900 > 1000: R = 2000.
        Assert.Equal([2_600L, 2_000], found.Select(r => r.WorstUs));
        found = ResponseAnalysis.Of([Message(1, 2_500, 2_500) with { JitterUs = 1_600 }, Message(2, 10_000, 10_000)], new BusConditions(8));
        // Again at 900: B starts behind both.
        Assert.Equal(3_000L, found[1].WorstUs);
    }

    // By hand: one error in 100 ms costs 31 bits of 8 µs and the longest frame of this priority or above: 248 + 1000.
    [Fact]
    public void An_error_costs_an_error_frame_and_a_repetition()
    {
        var found = ResponseAnalysis.Of([Message(1, 20_000, 20_000), Message(2, 20_000, 20_000)], new BusConditions(8) { ErrorsEveryUs = 100_000 });

        Assert.Equal([3_248L, 3_248], found.Select(r => r.WorstUs));
    }

    [Fact]
    public void An_overloaded_priority_has_no_bound()
    {
        var found = ResponseAnalysis.Of([Message(1, 2_000, 2_000), Message(2, 2_000, 2_000), Message(3, 2_000, 2_000)], new BusConditions(8));

        Assert.Equal(2_000, found[0].WorstUs);
        Assert.Null(found[2].WorstUs);
        Assert.False(found[2].Meets);
    }

    // Three mailboxes hold 4, 3 and 2 when 1 is released: it waits until the highest of them, 2, has left; that one may
    // wait for a foreign 9 that has begun, but not for 1, which is outside: 1000 + 1000, then 1 itself behind another 9.
    [Fact]
    public void Mailboxes_held_by_lower_frames_are_waited_for()
    {
        var own = Enumerable.Range(1, 4).Select(i => Message((uint)i, 50_000, 50_000) with { Station = 0 });
        var foreign = Message(9, 50_000, 50_000);

        var free = ResponseAnalysis.Of(own.Append(foreign), new BusConditions(8) { Mailboxes = [4] });
        var held = ResponseAnalysis.Of(own.Append(foreign), new BusConditions(8) { Mailboxes = [3] });

        Assert.Equal(0, free[0].InversionUs);
        Assert.Equal(2_000, free[0].WorstUs);
        Assert.True(held[0].InversionUs >= 2_000, $"{held[0]}");
        Assert.Equal(held[0].InversionUs + 2_000, held[0].WorstUs);
        Assert.Equal(0, held[1].InversionUs);
    }

    private static BusArrivals Message(uint id, long period, long deadline) => new()
    {
        Name = $"m{id}",
        Id = new CanId(id, false),
        PeriodUs = period,
        DeadlineUs = deadline,
        WireUs = 1_000,
        SlotUs = 1_000,
    };
}
