namespace Locum.Capture;

/// <summary>What lines of all text captures have in common.</summary>
internal static class PlainLine
{
    /// <summary>Without the carriage return at the end and zero bytes around, both of which are counted.</summary>
    public static ReadOnlySpan<byte> Trim(ReadOnlySpan<byte> line, long number, FrameIntake intake)
    {
        if (!line.IsEmpty && line[^1] is (byte)'\r')
        {
            intake.Oddities.Add(OddityKind.CarriageReturn, number);
            line = line.TrimEnd((byte)'\r');
        }

        if (!line.IsEmpty && (line[0] is 0 || line[^1] is 0))
        {
            intake.Oddities.Add(OddityKind.ZeroBytes, number);
            line = line.Trim((byte)0);
        }

        return line;
    }

    /// <summary>Blank or a comment; null for anything else.</summary>
    public static OddityKind? Classify(ReadOnlySpan<byte> line)
    {
        int start = line.IndexOfAnyExcept((byte)' ', (byte)'\t');
        if (start < 0)
            return OddityKind.BlankLine;
        return IsComment(line[start..]) ? OddityKind.CommentLine : null;
    }

    private static bool IsComment(ReadOnlySpan<byte> text) =>
        text[0] is (byte)'#' or (byte)';' or (byte)'%' or (byte)'*' || text.StartsWith("//"u8) || text.StartsWith("--"u8);
}
