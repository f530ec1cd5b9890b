namespace Locum.Capture;

/// <summary>The words of a kind of oddity.</summary>
/// <param name="Word">Stable word for programs.</param>
/// <param name="What">What is odd, for people.</param>
/// <param name="Done">What was done about it.</param>
/// <param name="Effect">What became of the line or packet.</param>
public sealed record OddityFacts(string Word, string What, string Done, OddityEffect Effect)
{
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
        OddityKind.NoTime => Kept("no-time", "an entry without a time", "taken at the time before it"),
        OddityKind.BadTime => Kept("bad-time", "a time that cannot be read or is out of range", "taken at the time before it"),
        OddityKind.NegativeTime => Kept("negative-time", "a time before zero", "kept as it is"),
        OddityKind.TimeBackwards => Kept("time-backwards", "time runs backwards", "kept; analysis starts anew there"),
        OddityKind.TimeJitter => Kept("time-jitter", "time steps back by at most 20 ms", "kept; analysis takes the later time"),
        OddityKind.TimeJump => Kept("time-jump", "time jumps ahead by more than ten minutes", "kept; analysis starts anew there"),
        _ => throw new ArgumentOutOfRangeException(nameof(kind)),
    };

    private static OddityFacts Kept(string word, string what, string done) => new(word, what, done, OddityEffect.Kept);

    private static OddityFacts LeftOut(string word, string what) => new(word, what, "left out", OddityEffect.LeftOut);

    private static OddityFacts Beside(string word, string what, string done) => new(word, what, done, OddityEffect.Beside);
}
