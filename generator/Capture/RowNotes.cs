namespace Locum.Capture;

/// <summary>What was odd about a row that gave a frame all the same.</summary>
[Flags]
internal enum RowNotes
{
    None = 0,
    NoTime = 1,
    BadTime = 2,
    PaddedId = 4,
    ExtraBytes = 8,
    ExtendedByValue = 16,
    Unpadded = 32,
}
