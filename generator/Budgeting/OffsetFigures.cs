namespace Locum.Budgeting;

/// <summary>How frames that start together meet on a bus of their own, with every stuff bit there can be.</summary>
/// <param name="PeakUs">The most wire time that waits or runs at any instant, µs.</param>
/// <param name="WorstUs">The longest from a release to the end of the frame with its intermission, µs.</param>
public readonly record struct OffsetFigures(long PeakUs, long WorstUs)
{
    /// <summary>True when neither figure is worse and one is better.</summary>
    public bool Improves(OffsetFigures other) => PeakUs <= other.PeakUs && WorstUs <= other.WorstUs && this != other;
}
