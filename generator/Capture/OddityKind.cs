namespace Locum.Capture;

/// <summary>Kinds of what is odd in captures; <see cref="OddityFacts"/> has the words.</summary>
public enum OddityKind
{
    CompressedEndDamaged,
    ReadBrokeOff,
    TruncatedEnd,
    TruncatedBetween,
    DamagedRest,
    BadBlock,
    BadInterface,
    UnknownBlock,
    UnknownInterface,
    ForeignPacket,
    SnappedPacket,
    ShortPacket,
    BadLength,
    IdTooLarge,
    LongFrame,
    NoTime,
    BadTime,
    NegativeTime,
    TimeBackwards,
    TimeJitter,
    TimeJump,
}
