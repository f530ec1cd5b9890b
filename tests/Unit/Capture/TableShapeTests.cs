using System.Globalization;
using System.Text;
using CsCheck;
using Locum.Capture;
using Locum.Model;
using Xunit;

namespace Locum.Tests.Unit.Capture;

/// <summary>Tables of every combination of columns, separators and ways of writing are recognised without a layout.</summary>
public sealed class TableShapeTests
{
    private static readonly (uint Id, int PeriodUs, int Length)[] s_traffic =
    [
        (0x0C4, 10_000, 8), (0x155, 20_000, 8), (0x2D1, 20_000, 6), (0x2FA, 50_000, 8), (0x3B8, 100_000, 3), (0x6A0, 100_000, 8), (0x5EF, 500_000, 1),
        (0x0CF00400, 20_000, 8), (0x18FEF1AB, 100_000, 8),
    ];

    private static readonly Gen<Shape> s_shapes =
        from separator in Gen.OneOf(',', ';', '\t', '|', ' ')
        from header in Gen.Bool
        from time in Gen.OneOf("s", "ms", "us", "ns", "clock", "epoch", "none")
        from comma in Gen.Bool
        from id in Gen.OneOf("X3", "0x", "h", "x", "decimal", "X8")
        from extended in Gen.Bool
        from bus in Gen.Bool
        from direction in Gen.Bool
        from length in Gen.Bool
        from data in Gen.OneOf("packed", "spaced", "columns", "filled", "decimal")
        from returns in Gen.Bool
        from seed in Gen.Int[0, 1000]
        where data is not ("spaced" or "filled") || separator is not ' '
        where id is not "decimal" || data is not "packed" || length || header
        select new Shape(separator, header, time, comma && separator is not ',', id, extended, bus, direction, length || separator is ' ', data, returns, seed);

    [Fact]
    public void Recognised_as_written() => s_shapes.Sample(
        shape =>
        {
            var frames = Frames(shape);
            var captured = Captured.Of(Write(shape, frames));
            Assert.NotNull(captured.Summary);
            Assert.Equal(frames.Select(f => f with { TimeNs = 0 }), captured.Entries.Select(e => e with { TimeNs = 0 }));
            Assert.Equal(shape.Time is not "none", captured.Summary.HasTime);
            if (captured.Summary.HasTime)
                Assert.Equal(frames.Select(f => f.TimeNs - frames[0].TimeNs), captured.Entries.Select(e => e.TimeNs - captured.Entries[0].TimeNs));
        },
        iter: 400, print: s => s.ToString() + "\n" + Write(s, Frames(s))[..600]);

    private static List<Entry> Frames(Shape shape)
    {
        var random = new Random(shape.Seed);
        var frames = new List<Entry>();
        foreach (var ((id, period, length), i) in s_traffic.Select((t, i) => (t, i)))
        {
            for (long us = random.Next(period); us < 1_500_000; us += period)
            {
                var data = new byte[length];
                random.NextBytes(data);
                data[0] = (byte)(us / period);
                frames.Add(new Entry(1000 * Stamp(shape, us + random.Next(200)), shape.Bus ? i % 2 is 0 ? "1" : "2" : "bus", id, id > 0x7FF ? FrameTraits.Extended : FrameTraits.None, length, Convert.ToHexString(data)));
            }
        }

        return [.. frames.OrderBy(f => f.TimeNs)];
    }

    // As fine as it is written.
    private static long Stamp(Shape shape, long us) => shape.Time is "ms" && !shape.Fractions ? us / 1000 * 1000 : us;

    private static string Write(Shape shape, List<Entry> frames)
    {
        var text = new StringBuilder();
        string end = shape.Returns ? "\r\n" : "\n";
        if (shape.Header)
            text.Append(string.Join(shape.Separator, Names(shape))).Append(end);
        foreach (var frame in frames)
            text.Append(string.Join(shape.Separator, Fields(shape, frame))).Append(end);
        return text.ToString();
    }

    private static IEnumerable<string> Names(Shape shape)
    {
        if (shape.Time is not "none")
            yield return shape.Time is "ms" ? "Time[ms]" : shape.Time is "us" or "ns" ? $"time_{shape.Time}" : "Timestamp";
        if (shape.Bus)
            yield return "Channel";
        yield return shape.Id is "decimal" ? "ID(dec)" : "ID";
        if (shape.Extended)
            yield return "Extended";
        if (shape.Direction)
            yield return "Dir";
        if (shape.Length)
            yield return "DLC";
        if (shape.Data is "packed" or "spaced")
            yield return "Data";
        for (int i = 0; i < 8 && shape.Data is "columns" or "filled" or "decimal"; i++)
            yield return $"D{i}";
    }

    private static IEnumerable<string> Fields(Shape shape, Entry frame)
    {
        if (shape.Time is not "none")
            yield return TimeOf(shape, frame.TimeNs / 1000);
        if (shape.Bus)
            yield return frame.Bus;
        yield return IdOf(shape, frame);
        if (shape.Extended)
            yield return frame.Id > 0x7FF ? "true" : "false";
        if (shape.Direction)
            yield return frame.Id % 3 is 0 ? "Tx" : "Rx";
        if (shape.Length)
            yield return frame.Length.ToString(CultureInfo.InvariantCulture);
        var bytes = Convert.FromHexString(frame.Data);
        if (shape.Data is "packed")
            yield return frame.Data;
        else if (shape.Data is "spaced")
            yield return string.Join(' ', bytes.Select(b => b.ToString("x2", CultureInfo.InvariantCulture)));
        for (int i = 0; i < 8 && shape.Data is "columns" or "filled" or "decimal"; i++)
        {
            if (i < bytes.Length)
                yield return shape.Data is "decimal" ? bytes[i].ToString(CultureInfo.InvariantCulture) : bytes[i].ToString("X2", CultureInfo.InvariantCulture);
            else if (shape.Data is "filled")
                yield return "";
        }
    }

    private static string TimeOf(Shape shape, long us)
    {
        string text = shape.Time switch
        {
            "s" => Decimal(us, 6),
            "ms" => shape.Fractions ? Decimal(us, 3) : (us / 1000).ToString(CultureInfo.InvariantCulture),
            "us" => us.ToString(CultureInfo.InvariantCulture),
            "ns" => (us * 1000).ToString(CultureInfo.InvariantCulture),
            "epoch" => Decimal(us + 1_700_000_000_000_000, 6),
            _ => TimeSpan.FromMicroseconds(us + 36_000_000_000).ToString(@"hh\:mm\:ss\.ffffff", CultureInfo.InvariantCulture),
        };
        return shape.Comma ? text.Replace('.', ',') : text;
    }

    private static string Decimal(long value, int digits)
    {
        long unit = (long)Math.Pow(10, digits);
        return string.Create(CultureInfo.InvariantCulture, $"{value / unit}.{(value % unit).ToString($"D{digits}", CultureInfo.InvariantCulture)}");
    }

    private static string IdOf(Shape shape, Entry frame)
    {
        bool extended = frame.Id > 0x7FF;
        return shape.Id switch
        {
            "0x" => $"0x{frame.Id:X}",
            "h" => $"{frame.Id:X3}h",
            "x" => $"{frame.Id:X}{(extended ? "x" : "")}",
            "decimal" => $"{frame.Id}",
            "X8" => $"{frame.Id:X8}",
            _ => extended ? $"{frame.Id:X8}" : $"{frame.Id:X3}",
        };
    }

    private sealed record Shape(
        char Separator, bool Header, string Time, bool Comma, string Id, bool Extended, bool Bus, bool Direction, bool Length, string Data, bool Returns, int Seed)
    {
        /// <summary>Milliseconds have digits behind the mark.</summary>
        public bool Fractions => Seed % 2 is 0;
    }
}
