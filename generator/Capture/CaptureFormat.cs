namespace Locum.Capture;

/// <summary>What kind of file a capture is.</summary>
public enum CaptureFormat
{
    /// <summary>pcapng.</summary>
    PcapNg,

    /// <summary>Classic pcap.</summary>
    Pcap,

    /// <summary>Lines such as <c>(12.345678) front 2D1#00FF</c>.</summary>
    TextLog,

    /// <summary>Rows of columns, separated by a character or by blanks.</summary>
    Delimited,

    /// <summary>One JSON object per line.</summary>
    JsonLines,
}

/// <summary>Words for formats of captures.</summary>
public static class CaptureFormatWords
{
    /// <summary>The format as people call it.</summary>
    public static string Of(CaptureFormat format) => format switch
    {
        CaptureFormat.PcapNg => "pcapng",
        CaptureFormat.Pcap => "pcap",
        CaptureFormat.TextLog => "text log",
        CaptureFormat.Delimited => "table",
        CaptureFormat.JsonLines => "JSON lines",
        _ => throw new ArgumentOutOfRangeException(nameof(format)),
    };
}
