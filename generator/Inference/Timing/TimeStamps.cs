using Locum.Capture;

namespace Locum.Inference.Timing;

/// <summary>What a logger did to the times of a recording.</summary>
public static class TimeStamps
{
    private const int Looked = 2_000;

    private static readonly int[] s_quanta = [10_000, 1_000, 100, 10];

    /// <summary>The step in which time stamps were taken, microseconds: 10 000, 1000, 100, 10 or 1.</summary>
    public static int QuantumUs(Recording recording)
    {
        foreach (int quantum in s_quanta)
            if (recording.Series.Count > 1 && recording.Series.All(s => AreMultiples(s.TimesUs, quantum, recording.Series[0].TimesUs[0])))
                return quantum;
        return 1;
    }

    // The capture's zero need not be a multiple.
    private static bool AreMultiples(ReadOnlySpan<long> times, int quantum, long zero)
    {
        foreach (long time in times[..Math.Min(times.Length, Looked)])
            if ((time - zero) % quantum != 0)
                return false;
        return true;
    }
}
