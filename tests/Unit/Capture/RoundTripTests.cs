using System.Text;
using CsCheck;
using Locum.Capture;
using Locum.Simulation;
using Locum.Tests.Unit.Traces;
using Locum.Traces;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Unit.Capture;

/// <summary>Random entries, written in every form that the program writes, are read back as they were.</summary>
public sealed class RoundTripTests
{
    private static readonly Gen<Entry> s_entry =
        from kind in Gen.Int[0, 9]
        from extended in Gen.Bool
        from id in extended ? Gen.UInt[CanId.MaxStandard + 1, CanId.MaxExtended] : Gen.UInt[0, CanId.MaxStandard]
        from length in kind > 7 ? Gen.OneOf(FdLengths.All.ToArray()) : Gen.Int[0, 8]
        from data in Gen.Byte.Array[length]
        from fd in Gen.OneOf(FrameTraits.Fd, FrameTraits.Fd | FrameTraits.RateSwitched, FrameTraits.Fd | FrameTraits.ErrorPassive)
        from bus in Gen.OneOf("body", "drive", "can0")
        from step in Gen.Long[0, 40_000_000]
        let kindOfId = extended ? FrameTraits.Extended : FrameTraits.None
        select kind switch
        {
            5 => new Entry(step, bus, id, kindOfId | FrameTraits.Remote, length, ""),
            6 => new Entry(step, bus, 0, FrameTraits.Error, 0, ""),
            > 7 => new Entry(step, bus, id, kindOfId | fd, length, Convert.ToHexString(data)),
            _ => new Entry(step, bus, id, kindOfId, length, Convert.ToHexString(data)),
        };

    // Times rise from a start anywhere, in nanoseconds; the last entry is one of each bus, so that names do not depend on chance.
    private static readonly Gen<Entry[]> s_capture =
        from entries in s_entry.Array[20, 120]
        from start in Gen.OneOf(0L, 1_700_000_000_123_456_789, 86_399_999_999_999)
        select Rising(entries, start);

    [Fact]
    public void Text_logs() => Sample(s_capture, (stream, entries) =>
    {
        using var sink = new TextLogSink(stream);
        Deliver(sink, entries);
    });

    [Fact]
    public void Pcapng() => Sample(s_capture, (stream, entries) => Deliver(new PcapNgSink(stream), entries));

    [Fact]
    public void Tables() => Sample(s_capture, (stream, entries) =>
    {
        using var text = new StreamWriter(stream, new UTF8Encoding(false), leaveOpen: true);
        Deliver(new CsvSink(text), entries);
    });

    [Theory]
    [InlineData("csv")]
    [InlineData("json")]
    [InlineData("pcapng")]
    [InlineData("log")]
    public void Traces_of_the_simulator(string form) => Sample(s_simulated, (stream, entries) =>
    {
        var frames = entries.Select(Sent).ToList();
        using var text = new StreamWriter(stream, new UTF8Encoding(false), leaveOpen: true) { NewLine = "\n" };
        switch (form)
        {
            case "csv":
                CsvTrace.Write(text, frames);
                break;
            case "json":
                JsonLinesTrace.Write(stream, frames);
                break;
            case "pcapng":
                PcapNgTrace.Write(stream, ["body", "drive", "can0"], frames);
                break;
            default:
                using (var log = new TextLogSink(stream))
                    SentFrames.Deliver(log, ["body", "drive", "can0"], frames);
                break;
        }
    });

    // Made for the eye: names longer than their column end in '~', and so do more than eight bytes of data.
    [Fact]
    public void The_simulators_text_for_the_eye() => Sample(
        s_simulated.Select(entries => entries.Where(e => (e.Traits & FrameTraits.Fd) is 0).ToArray()).Where(e => e.Length > 8),
        (stream, entries) =>
        {
            using var text = new StreamWriter(stream, new UTF8Encoding(false), leaveOpen: true);
            TextTrace.Write(text, entries.Select(Sent));
        });

    private static readonly Gen<Entry[]> s_simulated = s_capture.Select(entries => Rising(
        [.. entries.Where(e => (e.Traits & (FrameTraits.Remote | FrameTraits.Error | FrameTraits.ErrorPassive)) is 0).Select((e, i) => e with { TimeNs = 1_000_000 + (i * 1000) })], 0));

    private static void Sample(Gen<Entry[]> captures, Action<Stream, Entry[]> write) => captures.Sample(
        entries =>
        {
            using var stream = new MemoryStream();
            write(stream, entries);
            var captured = Captured.Of(stream.ToArray());
            Assert.Equal(entries, captured.Entries);
            Assert.All(captured.Summary!.Oddities, o => Assert.True(o.Facts.IsUsual, o.Facts.What));
        },
        iter: 100);

    private static Entry[] Rising(Entry[] entries, long start)
    {
        long time = start;
        return [.. entries.Select(e => e with { TimeNs = time += e.TimeNs })];
    }

    private static SentFrame Sent(Entry e)
    {
        long us = e.TimeNs / 1000;
        var format = (e.Traits & FrameTraits.RateSwitched) is not 0 ? FrameFormat.FdSwitched : (e.Traits & FrameTraits.Fd) is not 0 ? FrameFormat.Fd : FrameFormat.Classic;
        return new SentFrame(e.Bus, "cab-heat.Status", new CanId(e.Id, (e.Traits & FrameTraits.Extended) is not 0), Convert.FromHexString(e.Data), us, us, us) { Format = format };
    }

    private static void Deliver(IBusSink sink, Entry[] entries)
    {
        var buses = new List<string>();
        foreach (var e in entries)
        {
            if (!buses.Contains(e.Bus))
            {
                sink.Bus(buses.Count, e.Bus);
                buses.Add(e.Bus);
            }

            sink.Take(new CaptureFrame(e.TimeNs, buses.IndexOf(e.Bus), e.Id, e.Traits, (byte)e.Length), Convert.FromHexString(e.Data));
        }
    }
}
