namespace Locum.Capture;

/// <summary>A kind of oddity that a capture has.</summary>
/// <param name="Kind">What kind.</param>
/// <param name="Count">How often.</param>
/// <param name="First">The first line or packet, from 1.</param>
public readonly record struct Oddity(OddityKind Kind, long Count, long First)
{
    /// <summary>Words for people and programs.</summary>
    public OddityFacts Facts => OddityFacts.Of(Kind);
}
