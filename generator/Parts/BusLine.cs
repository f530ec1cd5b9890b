namespace Locum.Parts;

/// <summary>The line of a high-speed CAN bus: termination, stubs, lengths.</summary>
public static class BusLine
{
    /// <summary>At each end of the line, ohm (ISO 11898-2, from memory).</summary>
    public const decimal TerminationOhm = 120;

    /// <summary>The load that transceivers are specified for, ohm (ISO 11898-2, from memory).</summary>
    public const decimal LeastLoadOhm = 50;

    /// <summary>The same.</summary>
    public const decimal MostLoadOhm = 65;

    /// <summary>Longest stub at 1 Mbit/s, m (ISO 11898-2, as makers of transceivers quote it).</summary>
    public const decimal StubAtMegabitM = 0.3m;

    private const decimal Megabit = 1_000_000;
    private const double DelayNsPerM = 5;
    private const double EdgeNs = 50;

    // CiA 301, from memory.
    private static readonly (int Rate, decimal M)[] s_lengths =
        [(1_000_000, 25), (800_000, 50), (500_000, 100), (250_000, 250), (125_000, 500), (50_000, 1_000), (20_000, 2_500), (10_000, 5_000)];

    /// <summary>Resistors in parallel, ohm; null for none.</summary>
    public static decimal? Parallel(IEnumerable<decimal> ohm)
    {
        var conductance = ohm.Sum(r => 1 / r);
        return conductance > 0 ? 1 / conductance : null;
    }

    public static bool IsTerminated(decimal? ohm) => ohm is >= LeastLoadOhm and <= MostLoadOhm;

    /// <summary>Length at which an edge of a driver has run there and back when it ends, m (CiA 301: 5 m for 50 ns and 5 ns/m).</summary>
    public static double CriticalM(double edgeNs = EdgeNs, double delayNsPerM = DelayNsPerM) => edgeNs / (2 * delayNsPerM);

    /// <summary>Longest stub that needs no thought, m: the figure of 1 Mbit/s in proportion to the bit, at most a third of the critical length.</summary>
    public static decimal StubM(int rate) => Math.Round(Math.Min(StubAtMegabitM * Megabit / rate, (decimal)CriticalM() / 3), 2);

    /// <summary>Longest line between the two ends, m, of the next higher tabled rate; null above the table.</summary>
    public static decimal? LengthM(int rate) => s_lengths.Where(l => l.Rate >= rate).Select(l => (decimal?)l.M).LastOrDefault();
}
