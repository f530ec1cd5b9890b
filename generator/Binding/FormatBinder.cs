using Locum.Diagnostics;
using Locum.Model;
using Locum.Text;
using Locum.Wire;

namespace Locum.Binding;

/// <summary>Classic CAN or CAN FD, and what follows from it for lengths.</summary>
internal static class FormatBinder
{
    private static readonly Dictionary<string, bool> s_formats = new(StringComparer.Ordinal) { ["classic"] = false, ["fd"] = true };

    /// <summary>The format from the keys 'format' and 'switch rate'.</summary>
    /// <param name="bus">The frame's bus; null when it is not known, which is no finding here.</param>
    public static FrameFormat Bind(MappingReader reader, Bus? bus, DiagnosticBag diagnostics)
    {
        var fd = Scalars.Word(reader.Optional("format"), diagnostics, "format", s_formats) ?? false;
        var switches = Scalars.Word(reader.Optional("switch rate"), diagnostics, "answer", WordTables.YesNo);
        if (!fd && switches is not null)
            diagnostics.Add(Codes.FdMismatch, reader.SpanOf("switch rate"), "a classic frame has one bit rate", "add 'format: fd', or remove the line");
        if (!fd)
            return FrameFormat.Classic;
        if (bus is { DataRate: null })
            diagnostics.Add(Codes.FdMismatch, reader.SpanOf("format"), $"'{bus.Name}' is a classic bus, on which a CAN FD frame is an error", "give the bus a data rate ('data rate: 2 Mbit/s'), or make the frame classic", bus.Span);
        return switches is false ? FrameFormat.Fd : FrameFormat.FdSwitched;
    }

    /// <summary>True when a frame can have this many data bytes; a finding otherwise.</summary>
    public static bool CheckLength(long length, FrameFormat format, Span span, DiagnosticBag diagnostics)
    {
        if (format is FrameFormat.Classic)
        {
            if (length is >= 0 and <= 8)
                return true;
            diagnostics.Add(Codes.BadLength, span, $"a classic CAN frame cannot carry {length} bytes", "choose 0 to 8");
            return false;
        }
        if (length is >= 0 and <= FdLengths.Most && FdLengths.Code((int)length) is not null)
            return true;
        diagnostics.Add(Codes.BadLength, span, $"no CAN FD frame carries {length} bytes", length is < 0 or > FdLengths.Most
            ? "choose 0 to 8, 12, 16, 20, 24, 32, 48 or 64" : $"the next length is {FdLengths.AtLeast(length)}; fill the rest with bytes the original sent");
        return false;
    }
}
