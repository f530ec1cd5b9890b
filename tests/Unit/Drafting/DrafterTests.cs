using System.Text.Json;
using Locum.Drafting;
using Locum.Inference;
using Locum.Tests.Unit.Inference;
using Xunit;

namespace Locum.Tests.Unit.Drafting;

/// <summary>How drafts of synthetic recordings are written.</summary>
public sealed class DrafterTests
{
    [Fact]
    public void Every_inferred_line_has_a_word_and_what_was_counted()
    {
        string text = Draft(Plain()).Text!;

        string[] expected =
        [
            "    length: 4  # certain: 300 frames, none against",
            "    every: 20 ms  # certain: 299 gaps, none against; mean 20 ms, jitter 0 us",
            "      # certain: 299 steps, none against",
            "      count-8: {bit: 8, bits: 4, counter: {from: 0, to: 14}}",
            "    # likely: 300 frames, none against; 28 of 32 bits never change",
            "    base: 5A 00 00 00",
        ];
        string[] lines = text.Split('\n');
        Assert.All(expected, e => Assert.Contains(e, lines));
        Assert.All(lines.Where(l => l.Contains('#', StringComparison.Ordinal)), l => Assert.True(l.Length <= 80, l));
    }

    [Fact]
    public void Names_of_buses_become_usable_and_stay_apart()
    {
        var frames = new Synthetic();
        foreach (string bus in (string[])["1", "can0: {x}", "CAN0- -x", "\u001b[31mred", "ümlaut"])
            for (int i = 0; i < 20; i++)
                frames.AddOn(bus, i * 20_000, 0x100, [1]);
        var draft = Draft(frames);

        Assert.Contains("  bus-1: {rate:", draft.Text, StringComparison.Ordinal);
        Assert.DoesNotContain('\u001b', draft.Text!);
        Assert.Equal(5, draft.FrameNames.Distinct().Count());
        DraftLoad.AssertClean(draft.Text!);
    }

    [Fact]
    public void The_given_bit_rate_is_taken_and_one_that_is_not_given_is_marked()
    {
        Assert.Contains("body: {rate: 250 kbit/s}  # possible: as given", Draft(Plain(), 250_000).Text, StringComparison.Ordinal);
        Assert.Contains("no capture", Draft(Plain()).Text!.Replace("\n  # ", " ", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    [Fact]
    public void Frames_without_a_period_still_give_a_usable_description()
    {
        var random = new Random(1);
        double at = 300_000;
        var frames = new Synthetic().Every(0x050, 900, 10_000, _ => [0]);
        for (int i = 0; i < 30; i++)
            frames.Add(at += random.NextDouble() * 500_000, 0x100, (byte)random.Next(256), 3);
        var draft = Draft(frames);

        Assert.Contains("on: {start: yes}", draft.Text, StringComparison.Ordinal);
        Assert.Contains(draft.Unexplained, u => u.Why.StartsWith("30 frames without a period", StringComparison.Ordinal));
        DraftLoad.AssertClean(draft.Text!);
    }

    [Fact]
    public void Diagnostics_are_left_out_and_told()
    {
        var frames = Plain();
        for (int i = 0; i < 6; i++)
            frames.Add((i * 900_000) + 77_000, 0x7E8, 0x02, 0x7E, 0x00, 0xCC, 0xCC, 0xCC, 0xCC, 0xCC);
        var draft = Draft(frames, ids: [0x100, 0x7E8]);

        Assert.Contains("# Left out: 0x7E8, possible: segments of ISO 15765-2", draft.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("Id7E8:", draft.Text, StringComparison.Ordinal);
        Assert.Null(Draft(frames, ids: [0x7E8]).Text);
    }

    [Fact]
    public void A_counter_that_moves_with_every_fifth_frame_is_described_as_such()
    {
        var draft = Draft(new Synthetic().Every(0x050, 900, 10_000, _ => [0]).Every(0x100, 700, 10_000, i => [(byte)(i / 5 % 16 << 4), 7], 800_000));

        Assert.Contains("count-4: {bit: 4, bits: 4, counter: {from: 0, to: 15, every: 5}}", draft.Text, StringComparison.Ordinal);
        DraftLoad.AssertClean(draft.Text!);
    }

    // What nothing explains is as it was most of the time, and listed.
    [Fact]
    public void Unexplained_bits_keep_a_value_and_are_listed_with_the_reason()
    {
        var draft = Draft(new Synthetic().Every(0x100, 400, 20_000, i => [(byte)(i is > 120 and < 180 ? 0x31 : 0x30), 7]));

        Assert.Contains("value-0: {bit: 0, bits: 1, value: 0}", draft.Text, StringComparison.Ordinal);
        var open = Assert.Single(draft.Unexplained);
        Assert.Equal(("0x100", "bit 0"), (open.Id, open.Bits));
        Assert.Contains("no cause found; changed 2.420 s, 3.600 s after the first frame", open.Why, StringComparison.Ordinal);
    }

    [Fact]
    public void Summary_fits_80_columns_and_json_holds_the_same_facts()
    {
        var draft = Draft(Plain());
        using var text = new StringWriter();
        DraftText.Write(text, draft);
        Assert.All(text.ToString().Split('\n'), l => Assert.True(l.Length <= 80, l));

        using var stream = new MemoryStream();
        DraftJson.Write(stream, draft, withText: true);
        using var json = JsonDocument.Parse(stream.ToArray());
        Assert.Equal(draft.Facts.Count, json.RootElement.GetProperty("facts").GetArrayLength());
        Assert.Equal(draft.Text, json.RootElement.GetProperty("description").GetString());
        var period = json.RootElement.GetProperty("facts").EnumerateArray().Single(f => f.GetProperty("what").GetString() is "period");
        Assert.Equal(("20 ms", "certain", 299, 299), (period.GetProperty("says").GetString(), period.GetProperty("confidence").GetString(), period.GetProperty("tested").GetInt32(), period.GetProperty("hits").GetInt32()));
        Assert.True(period.GetProperty("log10Chance").GetDouble() < -6);
    }

    private static Synthetic Plain() => new Synthetic().Every(0x100, 300, 20_000, i => [0x5A, (byte)(i % 15), 0, 0]);

    private static Draft Draft(Synthetic frames, int? rate = null, params uint[] ids)
    {
        var recording = frames.Record();
        var chosen = recording.Series.Where(s => ids.Length is 0 ? s.Id.Value is not 0x050 : ids.Contains(s.Id.Value)).ToList();
        return Drafter.Write(ModuleInference.Find(recording, chosen, rate), new DraftOptions { Name = "made-up", Source = "nowhere", Rate = rate });
    }
}
