namespace Locum.Wire;

/// <summary>A bus as its bit timing has to meet it.</summary>
/// <param name="Rate">bit/s.</param>
/// <param name="SamplePoint">Wanted sample point, permille.</param>
/// <param name="DataRate">bit/s of the data phase; null on a classic bus.</param>
/// <param name="DataSamplePoint">Wanted sample point of the data phase, permille.</param>
public sealed record TimingRequest(long Rate, int SamplePoint, long? DataRate = null, int DataSamplePoint = 750)
{
    /// <summary>From a controller's output through the transceiver back to its input, ns.</summary>
    public double LoopDelayNs { get; init; } = DelayCompensation.LoopDelayNs;
}
