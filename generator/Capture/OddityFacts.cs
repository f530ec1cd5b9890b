namespace Locum.Capture;

/// <summary>The words of a kind of oddity.</summary>
/// <param name="Word">Stable word for programs.</param>
/// <param name="What">What is odd, for people.</param>
/// <param name="Done">What was done about it.</param>
/// <param name="Effect">What became of the line or packet.</param>
public sealed record OddityFacts(string Word, string What, string Done, OddityEffect Effect)
{
    /// <summary>True for what belongs to the form of a file, such as its header, and is not worth a message.</summary>
    public bool IsUsual { get; init; }

    /// <summary>The words of a kind.</summary>
    public static OddityFacts Of(OddityKind kind) => kind switch
    {
        OddityKind.CompressedEndDamaged => Beside("gz-damaged", "the compressed file is damaged or cut off", "read up to there"),
        OddityKind.ReadBrokeOff => Beside("read-broke-off", "reading failed in the middle of the file", "read up to there"),
        OddityKind.TruncatedEnd => LeftOut("cut-off", "the file ends in the middle of it"),
        OddityKind.TruncatedBetween => Beside("cut-off-between", "the file ends in the middle of something that is no packet", "left out"),
        OddityKind.DamagedRest => Beside("damaged", "a length in the file makes no sense", "bytes up to the next sound packet left out"),
        OddityKind.BadBlock => LeftOut("bad-block", "a block is too short for what it should hold"),
        OddityKind.BadInterface => Beside("bad-interface", "the description of an interface is too short", "its packets are left out"),
        OddityKind.UnknownBlock => Beside("unknown-block", "a block of a kind that is not known", "left out"),
        OddityKind.UnknownInterface => LeftOut("unknown-interface", "a packet of an interface that was not described"),
        OddityKind.ForeignPacket => LeftOut("no-can", "a packet of something else than CAN"),
        OddityKind.SnappedPacket => LeftOut("snapped", "a packet of which only the first bytes were captured"),
        OddityKind.ShortPacket => LeftOut("short-packet", "a packet too short for a CAN frame"),
        OddityKind.BadLength => LeftOut("bad-length", "a length that no frame of its kind has"),
        OddityKind.IdTooLarge => LeftOut("id-too-large", "an identifier that does not fit its kind"),
        OddityKind.LongFrame => LeftOut("can-xl", "a CAN XL frame"),
        OddityKind.ByteOrderMark => Beside("byte-order-mark", "the text starts with a byte order mark", "passed over"),
        OddityKind.Utf16 => Beside("utf-16", "the text is UTF-16", "converted"),
        OddityKind.CarriageOnly => Beside("carriage-returns-only", "lines end with a carriage return alone", "converted"),
        OddityKind.CarriageReturn => Kept("carriage-return", "a line ends with a carriage return too", "passed over"),
        OddityKind.ZeroBytes => Kept("zero-bytes", "zero bytes around a line, as after a power cut", "passed over"),
        OddityKind.UnendedLine => Kept("unended", "the last line has no line end and may be cut off", "taken as it is"),
        OddityKind.SkippedLine => LeftOut("skipped", "a line that the layout skips") with { IsUsual = true },
        OddityKind.BlankLine => LeftOut("blank-line", "an empty line") with { IsUsual = true },
        OddityKind.CommentLine => LeftOut("comment", "a comment") with { IsUsual = true },
        OddityKind.BannerLine => LeftOut("banner", "text in front of the first frame") with { IsUsual = true },
        OddityKind.HeaderLine => LeftOut("header", "a line of column names") with { IsUsual = true },
        OddityKind.HeaderRepeated => LeftOut("header-repeated", "the column names again, as when a logger starts a new file"),
        OddityKind.LineTooLong => LeftOut("line-too-long", "a line of more than a million bytes"),
        OddityKind.NotUnderstood => LeftOut("not-understood", "a line that is no frame"),
        OddityKind.MissingColumns => LeftOut("missing-columns", "a row that ends before its identifier or data"),
        OddityKind.BadId => LeftOut("bad-id", "an identifier that is no number"),
        OddityKind.BadData => LeftOut("bad-data", "data that are no bytes"),
        OddityKind.BytesMissing => LeftOut("bytes-missing", "fewer bytes than the length says"),
        OddityKind.ExtraBytes => Kept("extra-bytes", "more bytes than the length says", "taken up to the length"),
        OddityKind.PaddedId => Kept("padded-id", "an 11-bit identifier written with the digits of a 29-bit one", "taken as 11 bits by its value"),
        OddityKind.ExtendedByValue => Kept("too-large-for-11-bits", "an identifier said to have 11 bits that needs more", "taken as 29 bits"),
        OddityKind.UnpaddedData => Kept("unpadded-data", "data written as a number, without zeros in front", "padded to the length"),
        OddityKind.NoTime => Kept("no-time", "an entry without a time", "taken at the time before it"),
        OddityKind.BadTime => Kept("bad-time", "a time that cannot be read or is out of range", "taken at the time before it"),
        OddityKind.NegativeTime => Kept("negative-time", "a time before zero", "kept as it is"),
        OddityKind.TimeBackwards => Kept("time-backwards", "time runs backwards", "kept; analysis starts anew there"),
        OddityKind.TimeJitter => Kept("time-jitter", "time steps back by at most 20 ms", "kept; analysis takes the later time"),
        OddityKind.TimeJump => Kept("time-jump", "time jumps ahead by more than ten minutes", "kept; analysis starts anew there"),
        OddityKind.Midnight => Kept("midnight", "the clock passes midnight", "a day is added"),
        OddityKind.DecimalComma => Kept("decimal-comma", "times have a decimal comma", "read as a point"),
        _ => throw new ArgumentOutOfRangeException(nameof(kind)),
    };

    private static OddityFacts Kept(string word, string what, string done) => new(word, what, done, OddityEffect.Kept);

    private static OddityFacts LeftOut(string word, string what) => new(word, what, "left out", OddityEffect.LeftOut);

    private static OddityFacts Beside(string word, string what, string done) => new(word, what, done, OddityEffect.Beside);
}
