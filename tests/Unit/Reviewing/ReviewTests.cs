using Locum.Reviewing;
using Locum.Tests.Unit.Formatting;
using Locum.Tests.Unit.Schema;
using Xunit;

namespace Locum.Tests.Unit.Reviewing;

/// <summary>Each kind of change says exactly what it is, and nothing else is said.</summary>
public sealed class ReviewTests
{
    [Theory]
    [InlineData("hazard: none", "hazard: braking\nacknowledge: me", "! hazard: none → braking|! acknowledgement: none → me")]
    [InlineData("A seat", "A chair", "summary: A seat → A chair")]
    [InlineData("rate: 250 kbit/s", "rate: 125 kbit/s", "bus seat / rate: 250 kbit/s → 125 kbit/s")]
    [InlineData("87.5 %", "80 %", "bus body / sample point: 87.5 % → 80 %")]
    [InlineData("sample point: 87.5 %}", "sample point: 87.5 %, data rate: 2 Mbit/s}", "bus body / data rate: none → 2 Mbit/s|bus body / data sample point: none → 75 %")]
    [InlineData("kind: wake line", "kind: supply", "input run-line / kind: wake line → supply")]
    [InlineData("active: high", "active: low", "input run-line / active: high → low")]
    [InlineData("debounce: 20 ms", "debounce: 0.025 s", "input run-line / debounce: 20 ms → 25 ms")]
    [InlineData("timeout: 200 ms", "timeout: 300 ms", "received frame Drive / timeout: 200 ms → 300 ms")]
    [InlineData("id: 0x155,", "id: 0x150, mask: 0x7F0,", "received frame Drive / id: 0x155 → 0x150|received frame Drive / mask: 0x7FF → 0x7F0")]
    [InlineData("bit: 8, bits: 12,", "bit: 9, bits: 12,", "received frame Drive / field speed / place: byte 1 bit 0 → byte 1 bit 1")]
    [InlineData("for: 120 ms", "for: 150 ms", "mode waking / for: 120 ms → 150 ms")]
    [InlineData("for: 2 s, then: running", "for: 2 s, then: waking", "mode fast / then: running → waking")]
    [InlineData("at least: 90", "at least: 80", "mode running / exit 2: Drive.speed ≥ 90 km/h, then fast → Drive.speed ≥ 80 km/h, then fast")]
    [InlineData("sleep: yes, until", "until", "mode asleep / sleep: yes → no|frame Event / modes: waking, running, fast → asleep, waking, running, fast")]
    [InlineData("pair: {to: 255}", "pair: {to: 254}", "counter pair / to: 255 → 254")]
    [InlineData("pair: {to: 255}", "pair: {to: 255, start: 3, advance: slot, restart: entry}", "counter pair / start: 0 → 3|counter pair / advance: sent → slot|counter pair / restart: never → entry")]
    [InlineData("id: 0x2D1", "id: 0x2D2", "frame Status / id: 0x2D1 → 0x2D2")]
    [InlineData("id: 0x2D1", "id: 0x2D1\n    id kind: 29 bit", "frame Status / id: 0x2D1 → 0x000002D1|frame Status / id kind: 11 bit → 29 bit")]
    [InlineData("length: 4", "length: 5", "frame Event / length: 4 → 5")]
    [InlineData("offset: 7 ms", "offset: 8 ms", "frame Status / offset: 7 ms → 8 ms")]
    [InlineData("length: 4", "length: 4\n    in: [running]", "frame Event / modes: waking, running, fast → running")]
    [InlineData("3C 7F", "3D 7F", "frame Status / base byte 2: 3C → 3D")]
    [InlineData("bit: 0, bits: 3", "bit: 4, bits: 3", "frame Status / field state / place: byte 0 bit 0 → byte 0 bit 4")]
    [InlineData("bit: 16, bits: 8, scale", "bit: 16, bits: 7, scale", "frame Status / field target / width: 8 bits → 7 bits")]
    [InlineData("value: 5}", "signed: yes, value: 5}", "frame Event / field level / signed: no → yes")]
    [InlineData("value: 5}", "order: big, value: 5}", "frame Event / field level / order: little → big")]
    [InlineData("length: 4", "length: 4\n    every: 1 s\n    burst: {first: 3, every: 10 ms}", "frame Event / period: none → 1 s|frame Event / burst: none → 3 frames 10 ms apart")]
    [InlineData("every: 20 ms", "every: {waking: 10 ms, running: 20 ms}", "frame Status / period: 20 ms → by mode|frame Status / period in waking: none → 10 ms|frame Status / period in running: none → 20 ms")]
    [InlineData("value: 21.0", "value: 22.0", "frame Status / field target / value: 21 degC → 22 degC")]
    [InlineData("unit: degC", "unit: K", "frame Status / field target / unit: degC → K|frame Status / field target / value: 21 degC → 21 K")]
    [InlineData("names: {off: 0, on: 4}", "names: {off: 0, on: 5}", "frame Status / field state / name on: 4 → 5|frame Status / field state / value in running: on (4) → on (5)")]
    [InlineData("waking: 1, running", "waking: 2, running", "frame Status / field state / value in waking: 1 → 2")]
    [InlineData("gain: 20}, lost: 0", "gain: 20, at most: 4000}, lost: 1", "frame Status / field echo / at most: 4095 → 4000|frame Status / field echo / lost: 0 → 1")]
    [InlineData("{from: 0, to: 14}", "{from: 1, to: 13, step: 2}", "frame Status / field alive / from: 0 → 1|frame Status / field alive / to: 14 → 13|frame Status / field alive / step: 1 → 2|frame Status / field alive / start: 0 → 1")]
    [InlineData("crc8-sae-j1850", "xor", "frame Status / field guard / rule: crc8-sae-j1850 (8 bits, poly 0x1D, init 0xFF, reflect no/no, xor out 0xFF) → xor (bytes, start 0, complement none)")]
    [InlineData("over: 0..6", "over: [0..2, 5]", "frame Status / field guard / over: 0..6 → 0..2, 5")]
    [InlineData("with: [id low byte]", "before: 0x3B", "frame Status / field guard / before: none → 0x3B|frame Status / field guard / with: id byte 0 → none")]
    [InlineData("counter: pair", "counter: {to: 7}", "frame Event / field count / source: shared counter: pair → counter: from 0, to 7, step 1, every 1, start 0, advance sent, restart never")]
    [InlineData("after: 5 ms", "after: 6 ms", "frame Event / on: door active after 5 ms → door active after 6 ms")]
    [InlineData("repeat: 3", "repeat: 4", "frame Event / repeat: 3 → 4")]
    public void One_change_is_told(string old, string now, string expected)
    {
        Assert.Contains(old, Reviews.Valid, StringComparison.Ordinal);
        var review = Reviews.Of(Reviews.Valid, Reviews.Valid.Replace(old, now, StringComparison.Ordinal));
        var seen = review.Changes.Select(c => $"{(c.Hazard ? "! " : "")}{string.Join("", c.Path.Skip(1).Select(p => p + " / "))}{c.Label}: {c.Before ?? "none"} → {c.After ?? "none"}");
        Assert.Equal(expected.Split('|').Order(), seen.Order());
    }

    [Fact]
    public void A_shorter_period_is_told_with_its_effect_on_the_bus() => Assert.Equal(
        [
            "module seat",
            "  frame Status",
            "    period: 20 ms → 10 ms",
            "load of bus body in mode waking, seat: 1.4 % → 2.7 %",
            "load of bus body in mode running, seat: 1.4 % → 2.7 %",
        ],
        Reviews.Lines(Reviews.Valid, Reviews.Valid.Replace("every: 20 ms", "every: 10 ms", StringComparison.Ordinal)));

    [Fact]
    public void A_hazard_is_told_first_with_the_cautions_that_follow() => Assert.Equal(
        ["module seat", "  ! hazard: none → braking", "  ! acknowledgement: none → me", "  summary: A seat → A chair", "cautions repeated by every output, seat: none → braking"],
        Reviews.Lines(Reviews.Valid, Reviews.Valid.Replace("hazard: none", "hazard: braking\nacknowledge: me", StringComparison.Ordinal).Replace("A seat", "A chair", StringComparison.Ordinal)));

    [Theory]
    [InlineData("Status:", "State:", "  frame State: renamed from Status")]
    [InlineData("alive:", "live:", "  frame Status|    field live: renamed from alive")]
    [InlineData("waking", "rising", "  mode rising: renamed from waking")]
    [InlineData("door", "hatch", "  input hatch: renamed from door")]
    [InlineData("seat:", "chair:", "  bus chair: renamed from seat")]
    [InlineData("pair", "both", "  counter both: renamed from pair")]
    [InlineData("Drive", "Wheels", "  received frame Wheels: renamed from Drive")]
    [InlineData("speed", "pace", "  received frame Drive|    field pace: renamed from speed")]
    public void A_new_name_is_told_once(string old, string now, string expected)
    {
        var after = Reviews.Valid.Replace(old, now, StringComparison.Ordinal).Replace("bus: seat", old is "seat:" ? "bus: chair" : "bus: seat", StringComparison.Ordinal)
            .Replace($"module: {now}", "module: seat", StringComparison.Ordinal);
        Assert.Equal(["module seat", .. expected.Split('|')], Reviews.Lines(Reviews.Valid, after));
    }

    [Fact]
    public void What_comes_and_goes_is_told()
    {
        var after = Reviews.Valid.Replace("      level: {bit: 8, bits: 8, value: 5}", "      rest: {bit: 16, bits: 4, value: 5}", StringComparison.Ordinal);
        Assert.Equal(["module seat", "  frame Event", "    field level (byte 1 bit 0): removed", "    field rest (byte 2 bit 0): added"], Reviews.Lines(Reviews.Valid, after));
    }

    [Fact]
    public void Spacing_comments_and_the_order_of_keys_mean_nothing()
    {
        var other = "# a comment\n" + Formatted.Of(Reviews.Valid.Replace("    id: 0x2D1\n    length: 8\n", "    length: 8 # bytes\n\n    id: 721\n", StringComparison.Ordinal));
        Assert.Empty(Reviews.Lines(Reviews.Valid, other.Replace(" 20 ms", " 0.02 s", StringComparison.Ordinal)));
    }

    [Fact]
    public void Nothing_differs_from_itself()
    {
        var files = 0;
        foreach (var path in SchemaCorpusTests.Files("tests/Golden/valid").Concat(SchemaCorpusTests.Files("projects")).Select(f => RepoRoot.Path(f.Split('/'))).Where(Reviews.Reviewed))
        {
            var review = Review.Of(Reviews.Load(path), Reviews.Load(path));
            Assert.Empty(review.Changes);
            Assert.Empty(review.Effects);
            files++;
        }
        Assert.True(files > 32);
    }
}
