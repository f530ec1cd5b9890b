namespace Locum.Inference.Timing;

/// <summary>A second period that holds for a while.</summary>
/// <param name="PeriodUs">Measured, microseconds.</param>
/// <param name="Times">How often it held for a while.</param>
/// <param name="Frames">Distances of this length in all of them.</param>
public readonly record struct OtherPeriod(double PeriodUs, int Times, int Frames);
