using System.Buffers;
using System.Globalization;
using Locum.Simulation;
using Locum.Wire;

namespace Locum.Traces;

/// <summary>
/// Frames as comma-separated values: a header row, then one row per frame. Quoting as in RFC 4180; rows end
/// with a line feed alone. Columns: end of the frame in seconds, bus, identifier, 1 for 29 bits, format (classic, fd,
/// fd-switched), number of
/// data bytes, data, sender, and the times of acceptance and start in microseconds.
/// </summary>
public static class CsvTrace
{
    private const string Header = "time,bus,id,extended,format,length,data,sender,accepted_us,start_us\n";

    private static readonly SearchValues<char> s_special = SearchValues.Create(",\"\r\n");

    /// <summary>Writes the header and all frames, in the order given.</summary>
    public static void Write(TextWriter output, IEnumerable<SentFrame> frames)
    {
        output.Write(Header);
        foreach (var frame in frames)
        {
            var id = frame.Id;
            output.Write(string.Create(
                CultureInfo.InvariantCulture,
                $"{Seconds.Of(frame.EndUs)},{Quote(frame.Bus)},{id},{(id.Extended ? 1 : 0)},{FormatWords.Of(frame.Format)},{frame.Data.Length},"));
            output.Write(string.Create(
                CultureInfo.InvariantCulture,
                $"{Hex.Bytes(frame.Data)},{Quote(frame.Sender)},{frame.AcceptedUs},{frame.StartUs}\n"));
        }
    }

    internal static string Quote(string value) =>
        value.AsSpan().ContainsAny(s_special) ? $"\"{value.Replace("\"", "\"\"", StringComparison.Ordinal)}\"" : value;
}
