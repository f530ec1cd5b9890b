using System.Text;
using Locum.Capture;
using Locum.Diagnostics;
using Locum.Tests.Golden;
using Xunit;

namespace Locum.Tests.Unit.Capture;

/// <summary>Memory does not grow with the file: what is allocated for a long stream is what is allocated for a short one.</summary>
public sealed class StreamingTests
{
    private const long Short = 5_000_000;
    private const long Long = 50_000_000;
    private const long VeryLong = 400_000_000;
    private const long Slack = 200_000;

    [Theory]
    [InlineData("clean.log", 0)]
    [InlineData("clean.csv", 1)]
    [InlineData("two-buses.csv", 1)]
    [InlineData("short-rows.csv", 1)]
    [InlineData("blanks-with-banner.txt", 2)]
    [InlineData("carriage-returns.log", 0)]
    [InlineData("time-missing.csv", 1)]
    [InlineData("extra-bytes.csv", 1)]
    [InlineData("remote-and-errors.log", 0)]
    public void Text(string name, int headLines)
    {
        var lines = File.ReadAllText(Path.Combine(Corpus.Folder("captures"), name)).Split('\n');
        var head = Encoding.UTF8.GetBytes(string.Concat(lines.Take(headLines).Select(l => l + "\n")));
        var part = Encoding.UTF8.GetBytes(string.Concat(lines.Skip(headLines).SkipLast(1).Select(l => l + "\n")));
        Flat(head, part, name is "clean.log" ? VeryLong : Long);
    }

    [Fact]
    public void Packets()
    {
        var packets = new PcapBytes(false);
        var blocks = new PcapBytes(false);
        for (uint i = 0; i < 1000; i++)
        {
            packets.PcapPacket(i, i, PcapBytes.Can(0x100 + (i % 50), [1, 2, 3, 4, 5, 6, 7, 8]));
            blocks.Packet(0, i * 1000, PcapBytes.Can(0x100 + (i % 50), [1, 2, 3, 4, 5, 6, 7, 8]));
        }

        Flat(new PcapBytes(false).PcapHeader().ToArray(), packets.ToArray(), VeryLong);
        Flat(new PcapBytes(false).Section().Interface(name: "body").ToArray(), blocks.ToArray(), Long);
    }

    [Fact]
    public void Broken_reading_keeps_what_came_before()
    {
        var text = Encoding.UTF8.GetBytes(string.Concat(Enumerable.Range(0, 20_000).Select(i => $"({i / 1000}.{i % 1000:D3}000) body 2D1#0011\n")));
        var captured = Captured.Of(new Broken(text));

        Assert.Equal(20_000, captured.Entries.Count);
        Assert.Equal(1, captured.Count(OddityKind.ReadBrokeOff));
    }

    private static void Flat(byte[] head, byte[] part, long length)
    {
        Allocated(head, part, Short);
        long few = Allocated(head, part, Short);
        long many = Allocated(head, part, length);
        Assert.InRange(many, 0, few + Slack);
    }

    private static long Allocated(byte[] head, byte[] part, long length)
    {
        long before = GC.GetAllocatedBytesForCurrentThread();
        var sink = new Counter();
        var summary = CaptureReader.Read(new Repeated(head, part, length), "endless", sink, new DiagnosticBag());
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.Equal(summary!.Entries, sink.Entries);
        Assert.InRange(sink.Entries, length / 200, length);
        return allocated;
    }

    private sealed class Counter : IFrameSink
    {
        public long Entries { get; private set; }

        public void Take(in CaptureFrame frame, ReadOnlySpan<byte> data) => Entries++;
    }

    private sealed class Broken(byte[] bytes) : MemoryStream(bytes)
    {
        public override int Read(Span<byte> buffer) => Position == Length ? throw new IOException("the disk is gone") : base.Read(buffer);

        public override int Read(byte[] buffer, int offset, int count) => Position == Length ? throw new IOException("the disk is gone") : base.Read(buffer, offset, count);
    }
}
