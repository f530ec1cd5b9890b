using System.Globalization;
using Locum.Capture;
using Locum.Wire;

namespace Locum.Traces;

/// <summary>
/// Entries of a capture as comma-separated values: a header row, then one row per entry. Quoting as in RFC 4180. Columns:
/// time in seconds, bus, identifier, 1 for 29 bits, kind (data, remote, error), format (classic, fd, fd-switched), 1 for
/// senders that are error passive, number of data bytes, data.
/// </summary>
public sealed class CsvSink : IBusSink
{
    private const decimal NsPerSecond = 1_000_000_000;

    private readonly TextWriter _output;
    private readonly List<string> _buses = [];

    /// <param name="output">Receives the text; stays open.</param>
    public CsvSink(TextWriter output)
    {
        _output = output;
        output.Write("time,bus,id,extended,kind,format,error_passive,length,data\n");
    }

    public void Bus(int number, string name) => _buses.Add(CsvTrace.Quote(name));

    public void Take(in CaptureFrame frame, ReadOnlySpan<byte> data)
    {
        var traits = frame.Traits;
        string kind = (traits & FrameTraits.Error) is not 0 ? "error" : (traits & FrameTraits.Remote) is not 0 ? "remote" : "data";
        string time = (frame.TimeNs / NsPerSecond).ToString(frame.TimeNs % 1000 is 0 ? "0.000000" : "0.000000000", CultureInfo.InvariantCulture);
        _output.Write(string.Create(
            CultureInfo.InvariantCulture,
            $"{time},{_buses[frame.Bus]},{frame.CanId},{Flag(traits, FrameTraits.Extended)},{kind},{FormatWords.Of(frame.Format)},{Flag(traits, FrameTraits.ErrorPassive)},{frame.Length},{Hex.Bytes(data)}\n"));
    }

    private static int Flag(FrameTraits traits, FrameTraits flag) => (traits & flag) is 0 ? 0 : 1;
}
