using System.Text.Json;
using Locum.Simulation;
using Locum.Wire;

namespace Locum.Traces;

/// <summary>
/// Frames as one JSON object per line (RFC 8259), keys always in this order: <c>bus</c>, <c>id</c> (text),
/// <c>extended</c>, <c>format</c> (classic, fd, fd-switched), <c>length</c>, <c>data</c> (hexadecimal text), <c>sender</c>, <c>accepted_us</c>,
/// <c>start_us</c>, <c>end_us</c>.
/// </summary>
public static class JsonLinesTrace
{
    /// <summary>Writes all frames as UTF-8, in the order given. The stream stays open.</summary>
    public static void Write(Stream output, IEnumerable<SentFrame> frames)
    {
        using var json = new Utf8JsonWriter(output);
        foreach (var frame in frames)
        {
            json.WriteStartObject();
            json.WriteString("bus", frame.Bus);
            json.WriteString("id", frame.Id.ToString());
            json.WriteBoolean("extended", frame.Id.Extended);
            json.WriteString("format", FormatWords.Of(frame.Format));
            json.WriteNumber("length", frame.Data.Length);
            json.WriteString("data", Hex.Bytes(frame.Data));
            json.WriteString("sender", frame.Sender);
            json.WriteNumber("accepted_us", frame.AcceptedUs);
            json.WriteNumber("start_us", frame.StartUs);
            json.WriteNumber("end_us", frame.EndUs);
            json.WriteEndObject();
            json.Flush();
            output.WriteByte((byte)'\n');
            json.Reset();
        }
    }
}
