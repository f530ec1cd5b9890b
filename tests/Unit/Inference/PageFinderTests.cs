using Locum.Inference;
using Locum.Inference.Counting;
using Locum.Inference.Paging;
using Locum.Inference.Payload;
using Locum.Inference.Timing;
using Xunit;

namespace Locum.Tests.Unit.Inference;

/// <summary>Synthetic payloads that come in turn.</summary>
public sealed class PageFinderTests
{
    private static readonly byte[][] s_pages = [[0, 0x11, 0x00, 0x40], [1, 0x22, 0xAA, 0x40], [2, 0x00, 0x00, 0x07], [3, 0x80, 0x01, 0x00]];

    [Fact]
    public void Pages_begin_with_that_of_the_wanted_frame_and_the_selector_is_named()
    {
        var found = Find(400, i => s_pages[i % 4], 6)!;

        Assert.Equal([s_pages[2], s_pages[3], s_pages[0], s_pages[1]], found.Pages);
        Assert.Equal(new FieldPlace(0, 2), found.Selector);
        Assert.Equal((Confidence.Certain, 0), (found.Evidence.Confidence, found.Evidence.Contradictions));
    }

    // One payload more often than the others, none of them numbered.
    [Fact]
    public void A_sequence_without_a_selector_is_found()
    {
        byte[][] sequence = [[5], [9], [5], [7], [5]];
        var found = Find(300, i => sequence[i % 5], 0)!;

        Assert.Equal(sequence, found.Pages);
        Assert.Null(found.Selector);
    }

    [Fact]
    public void What_varies_on_one_page_only_belongs_to_that_page()
    {
        var found = Find(800, i => i % 4 is 1 && i > 500 ? [1, 0x22, 0x55, 0x40] : s_pages[i % 4], 0)!;

        Assert.Equal(0xAA, found.Pages[1][2]);
        Assert.All(found.Varying, v => Assert.Equal(1, v.Page));
        Assert.Contains(found.Varying, v => v.Bit / 8 is 2);
    }

    [Fact]
    public void Missing_frames_do_not_shift_the_pages()
    {
        var frames = new Synthetic().Every(0x100, 600, 50_000, i => s_pages[i % 4], lost: i => i % 23 is 5);
        var recording = frames.Record();
        var sending = SendingFinder.Find(recording.Series[0], recording.Parts, 1);
        var payloads = Payloads.Of(recording.Series[0], sending.Steps);

        Assert.Equal(s_pages, PageFinder.Find(payloads, BitActivity.Of(payloads), _ => false, 0)!.Pages);
    }

    [Fact]
    public void Random_payloads_and_plain_counters_are_no_pages()
    {
        var random = new Random(3);
        Assert.Null(Find(500, _ => [(byte)random.Next(256), 1], 0));
        Assert.Null(Find(500, i => [(byte)i, 1], 0));
    }

    [Fact]
    public void A_value_that_changes_now_and_then_is_no_page() => Assert.Null(Find(500, i => [(byte)(i / 60), 1], 0));

    private static PageFinding? Find(int count, Func<int, byte[]> data, int first)
    {
        var payloads = Payloads.Of(new Synthetic().Every(0x100, count, 50_000, data).Series(), SteadyNumber.StepsByRun(new Synthetic().Every(0x100, count, 50_000, data).Series()));
        var counters = CounterFinder.Find(payloads, _ => false).Where(c => c.Rule.Count > 4).SelectMany(c => c.Place.Positions()).ToHashSet();
        return PageFinder.Find(payloads, BitActivity.Of(payloads), counters.Contains, first);
    }
}
