namespace Locum.Capture;

/// <summary>What readers of text share: whole lines in the window, the last one, lines without end.</summary>
/// <param name="source">The text.</param>
/// <param name="intake">Takes the entries.</param>
/// <param name="before">Lines that were passed over already.</param>
internal abstract class LineReader(ByteSource source, FrameIntake intake, long before)
{
    /// <summary>Longer lines are passed over.</summary>
    public const int LongestLine = 1024 * 1024;

    /// <summary>Lines so far.</summary>
    public long Line { get; protected set; } = before;

    protected FrameIntake Intake { get; } = intake;

    /// <summary>Reads to the end.</summary>
    public void Read()
    {
        while (true)
        {
            source.Place = Line + 1;
            int used = Lines(source.WindowAndSlack, source.Window.Length);
            source.Advance(used);
            if (source.Window.Length >= LongestLine)
                PassOver();
            else if (!source.More())
                break;
        }

        if (source.Window.IsEmpty)
            return;
        Line++;
        LastLine(source.Window);
        source.Advance(source.Window.Length);
    }

    /// <summary>Reads every line that ends in the window; returns the bytes used.</summary>
    /// <param name="window">Bytes, with some behind them that mean nothing.</param>
    /// <param name="length">Bytes that count.</param>
    protected abstract int Lines(ReadOnlySpan<byte> window, int length);

    /// <summary>Reads what follows the last line end.</summary>
    protected abstract void LastLine(ReadOnlySpan<byte> line);

    /// <summary>Counts a line that is too long; true when it is.</summary>
    protected bool IsTooLong(int length)
    {
        if (length < LongestLine)
            return false;
        Intake.Oddities.Add(OddityKind.LineTooLong, Line);
        return true;
    }

    private void PassOver()
    {
        Line++;
        Intake.Oddities.Add(OddityKind.LineTooLong, Line);
        while (true)
        {
            int end = source.Window.IndexOf((byte)'\n');
            source.Advance(end < 0 ? source.Window.Length : end + 1);
            if (end >= 0 || !source.More())
                return;
        }
    }
}
