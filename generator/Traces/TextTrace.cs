using Locum.Simulation;
using Locum.Wire;

namespace Locum.Traces;

/// <summary>
/// Frames for the eye: a header and one line per frame, aligned, at most 80 columns. What is too long for
/// its column ends in <c>~</c>. Behind the length, <c>f</c> marks CAN FD and <c>b</c> CAN FD that switches the bit
/// rate.
/// </summary>
public static class TextTrace
{
    private const int TimeWidth = 13;
    private const int BusWidth = 9;
    private const int IdWidth = 10;
    private const int LengthWidth = 3;
    private const int DataWidth = 23;
    private const int SenderWidth = 15;

    /// <summary>Writes the header and all frames, in the order given.</summary>
    public static void Write(TextWriter output, IEnumerable<SentFrame> frames)
    {
        Line(output, "end [s]", "bus", "id", "len", "data", "sender");
        foreach (var frame in frames)
        {
            Line(
                output, Seconds.Of(frame.EndUs), frame.Bus, frame.Id.ToString(),
                Length(frame), Hex.Bytes(frame.Data), Short(frame.Sender));
        }
    }

    private static void Line(TextWriter output, string time, string bus, string id, string length, string data, string sender)
    {
        string line = string.Join(
            ' ',
            time.PadLeft(TimeWidth),
            Column(bus, BusWidth),
            Column(id, IdWidth),
            length.PadLeft(LengthWidth),
            Column(data, DataWidth),
            Column(sender, SenderWidth));
        output.Write(line.TrimEnd());
        output.Write('\n');
    }

    private static string Length(SentFrame frame) => frame.Format switch
    {
        FrameFormat.Fd => $"{frame.Data.Length}f",
        FrameFormat.FdSwitched => $"{frame.Data.Length}b",
        _ => $"{frame.Data.Length}",
    };

    // A frame's own name says more than its module's.
    private static string Short(string sender) =>
        sender.Length <= SenderWidth ? sender : sender[(sender.IndexOf('.') + 1)..];

    private static string Column(string text, int width) =>
        text.Length <= width ? text.PadRight(width) : string.Concat(text.AsSpan(0, width - 1), "~");
}
