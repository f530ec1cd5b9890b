using Locum.Wire;

namespace Locum.Capture;

/// <summary>Reads any line of a text log, whatever its blanks, widths and flags.</summary>
/// <param name="intake">Takes the entries.</param>
/// <param name="eightDigitsAreExtended">
/// As the form has it, eight digits mean a 29-bit identifier. False: the writer pads them all, and the value decides.
/// </param>
internal sealed class TextLogLine(FrameIntake intake, bool eightDigitsAreExtended)
{
    private const uint ErrorFlag = 0x2000_0000;
    private const byte SwitchFlag = 1;
    private const byte PassiveFlag = 2;
    private const int ClassicMost = 8;
    private const int LongId = 8;

    private readonly byte[] _data = new byte[FdLengths.Most];

    /// <summary>As given.</summary>
    public bool EightDigitsAreExtended { get; } = eightDigitsAreExtended;

    /// <summary>Hands on what a line says, or counts why it says nothing.</summary>
    /// <param name="line">Without its line feed.</param>
    /// <param name="number">From 1.</param>
    /// <param name="last">No line feed followed.</param>
    public void Read(ReadOnlySpan<byte> line, long number, bool last)
    {
        line = PlainLine.Trim(line, number, intake);
        var result = PlainLine.Classify(line) ?? (last && MayBeCut(line) ? OddityKind.TruncatedEnd : Frame(line, number));
        if (result is { } odd)
            intake.Oddities.Add(last && odd is not (OddityKind.BlankLine or OddityKind.CommentLine) ? OddityKind.TruncatedEnd : odd, number);
        else if (last)
            intake.Oddities.Add(OddityKind.UnendedLine, number);
    }

    /// <summary>True for a line of this form, sound or not, for telling what a file is.</summary>
    public static bool Looks(ReadOnlySpan<byte> line)
    {
        var rest = line.Trim((byte)' ');
        if (rest.IsEmpty || rest[0] is not (byte)'(')
            return false;
        int close = rest.IndexOf((byte)')');
        if (close < 2 || !TimeText.IsDecimal(rest[1..close]))
            return false;
        Word(ref rest);
        var bus = Word(ref rest);
        var frame = Word(ref rest);
        int hash = frame.IndexOf((byte)'#');
        return !bus.IsEmpty && hash is >= 1 and <= 8 && Digits.Number(frame[..hash]) is not null;
    }

    /// <summary>The identifier's digits; empty when the line has no such form.</summary>
    public static ReadOnlySpan<byte> Identifier(ReadOnlySpan<byte> line)
    {
        if (!Looks(line))
            return [];
        Word(ref line);
        Word(ref line);
        var frame = Word(ref line);
        return frame[..frame.IndexOf((byte)'#')];
    }

    // Only of eight bytes it is sure that no more were to come, or of what has a word behind it.
    private static bool MayBeCut(ReadOnlySpan<byte> line)
    {
        if (!Looks(line))
            return true;
        Word(ref line);
        Word(ref line);
        var frame = Word(ref line);
        int data = frame.Length - frame.IndexOf((byte)'#') - 1;
        return Word(ref line).IsEmpty && data is not (2 * ClassicMost);
    }

    private OddityKind? Frame(ReadOnlySpan<byte> line, long number)
    {
        if (!Looks(line))
            return intake.Entries is 0 ? OddityKind.BannerLine : OddityKind.NotUnderstood;
        var time = Word(ref line);
        var bus = Word(ref line);
        var frame = Word(ref line);
        int hash = frame.IndexOf((byte)'#');
        var digits = frame[..hash];
        uint id = Digits.Number(digits)!.Value;
        bool error = id is > CanId.MaxExtended and < 2 * ErrorFlag;
        if (id > CanId.MaxExtended && !error)
            return OddityKind.IdTooLarge;
        bool extended = id > CanId.MaxStandard || (digits.Length is LongId && EightDigitsAreExtended);
        var head = new CaptureFrame(0, 0, error ? 0 : id, error ? FrameTraits.Error : extended ? FrameTraits.Extended : FrameTraits.None, 0);
        if (!error && (Content(frame[(hash + 1)..], ref head) is { } odd))
            return odd;
        if (!error && !extended && digits.Length is LongId)
            intake.Oddities.Add(OddityKind.PaddedId, number);
        long? timeNs = TimeText.Seconds(time[1..^1]);
        if (timeNs is null)
            intake.Oddities.Add(OddityKind.BadTime, number);
        var data = _data.AsSpan(0, head.IsData ? head.Length : 0);
        intake.Take(head with { TimeNs = timeNs ?? intake.PreviousNs, Bus = intake.Bus(bus) }, data, number);
        return null;
    }

    // What follows the '#': data, R for a remote frame, or another '#' with flags and data of CAN FD.
    private OddityKind? Content(ReadOnlySpan<byte> text, ref CaptureFrame head)
    {
        if (!text.IsEmpty && text[0] is (byte)'R' or (byte)'r')
        {
            int length = text.Length < 2 ? 0 : Digits.Value(text[1]);
            if (length > ClassicMost)
                return OddityKind.BadLength;
            head = head with { Traits = head.Traits | FrameTraits.Remote, Length = (byte)length };
            return null;
        }

        bool fd = text.Length >= 2 && text[0] is (byte)'#' && Digits.Value(text[1]) is not Digits.None;
        if (fd)
        {
            int flags = Digits.Value(text[1]);
            head = head with
            {
                Traits = head.Traits | FrameTraits.Fd
                    | ((flags & SwitchFlag) is not 0 ? FrameTraits.RateSwitched : FrameTraits.None)
                    | ((flags & PassiveFlag) is not 0 ? FrameTraits.ErrorPassive : FrameTraits.None),
            };
            text = text[2..];
        }
        else if (text.IndexOf((byte)'_') is >= 0 and var code)
        {
            // A length code above 8 in a frame of 8 bytes, which changes nothing.
            text = text[..code];
        }

        int count = ByteText.Packed(text, _data);
        if (count < 0)
            return OddityKind.BadData;
        if (fd ? FdLengths.Code(count) is null : count > ClassicMost)
            return OddityKind.BadLength;
        head = head with { Length = (byte)count };
        return null;
    }

    private static ReadOnlySpan<byte> Word(scoped ref ReadOnlySpan<byte> text)
    {
        int start = text.IndexOfAnyExcept((byte)' ', (byte)'\t');
        if (start < 0)
            return text = [];
        text = text[start..];
        int end = text.IndexOfAny((byte)' ', (byte)'\t');
        if (end < 0)
            end = text.Length;
        var word = text[..end];
        text = text[end..];
        return word;
    }
}
