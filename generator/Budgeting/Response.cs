namespace Locum.Budgeting;

/// <summary>What the analysis says of a stream.</summary>
/// <param name="Stream">The stream.</param>
/// <param name="WorstUs">From a release as meant to the end of the frame, never longer than this, µs; null: no bound was found.</param>
/// <param name="BlockingUs">Longest frame of lower priority in front.</param>
/// <param name="InversionUs">Longest wait for a mailbox that frames of lower priority of the same board hold.</param>
/// <param name="Instances">Releases in the longest busy time, all of which were looked at.</param>
public sealed record Response(BusArrivals Stream, long? WorstUs, long BlockingUs, long InversionUs, long Instances)
{
    /// <summary>True when every frame has ended within its deadline.</summary>
    public bool Meets => WorstUs <= Stream.DeadlineUs;
}
