using Locum.Model;

namespace Locum.Tests.Firmware;

/// <summary>
/// The simulator's time on an emulated board, whose processor takes a while from power-on or a reset until its
/// clock shows 0. The simulator knows no such while, so everything behind a reset comes later here.
/// </summary>
/// <param name="resets">The simulator's resets, in order of time.</param>
/// <param name="delays">From power-on and from each reset to the clock's 0, µs.</param>
internal sealed class LifeClock(IReadOnlyList<Reset> resets, IReadOnlyList<long> delays)
{
    // By life: its begin in the simulator and on the board, and when the board's clock shows 0.
    private readonly List<(long Simulated, long Reset, long Zero)> _lives = Lives(resets, delays);

    /// <summary>Power-on and resets in the simulator's time.</summary>
    public IReadOnlyList<long> Begins => [.. _lives.Select(l => l.Simulated)];

    /// <summary>The resets in the board's time.</summary>
    public IReadOnlyList<long> Resets => [.. _lives.Skip(1).Select(l => l.Reset)];

    /// <summary>The board's time in the simulator's; before the clock runs, what was before the reset goes on.</summary>
    public double Simulated(double board)
    {
        var (simulated, _, zero) = _lives.Last(l => l.Reset <= board);
        return board - zero + simulated;
    }

    /// <summary>A stimulus in the board's time. The emulators do not stall.</summary>
    public Stimulus ForBoard(Stimulus stimulus) => stimulus with
    {
        EndUs = Board(stimulus.EndUs),
        Inputs = [.. stimulus.Inputs.Select(i => i with { AtUs = Board(i.AtUs) })],
        Traffic = [.. stimulus.Traffic.SelectMany(Pieces)],
        Blocked = [.. stimulus.Blocked.Select(b => b with { FromUs = Board(b.FromUs), UntilUs = Board(b.UntilUs) })],
        Stalls = [.. stimulus.Stalls.Select(s => new Stall(Board(s.FromUs), Board(s.UntilUs)))],
        BusOffs = [.. stimulus.BusOffs.Select(b => b with { AtUs = Board(b.AtUs) })],
        Resets = [.. stimulus.Resets.Zip(Resets, (r, at) => r with { AtUs = at })],
    };

    private static List<(long Simulated, long Reset, long Zero)> Lives(IReadOnlyList<Reset> resets, IReadOnlyList<long> delays)
    {
        var lives = new List<(long Simulated, long Reset, long Zero)> { (0, 0, delays[0]) };
        foreach (var (reset, delay) in resets.Zip(delays.Skip(1)))
        {
            var at = reset.AtUs - lives[^1].Simulated + lives[^1].Zero;
            lives.Add((reset.AtUs, at, at + delay));
        }
        return lives;
    }

    private long Board(long simulated)
    {
        var life = _lives.Last(l => l.Simulated <= simulated);
        return simulated - life.Simulated + life.Zero;
    }

    // The releases of each life, with the distance that they keep from its begin.
    private IEnumerable<Traffic> Pieces(Traffic traffic)
    {
        for (var i = 0; i < _lives.Count; i++)
        {
            var from = _lives[i].Simulated;
            var until = Math.Min(i + 1 < _lives.Count ? _lives[i + 1].Simulated : long.MaxValue, traffic.UntilUs);
            var first = traffic.FirstUs >= from ? traffic.FirstUs
                : traffic.FirstUs + (from - traffic.FirstUs + traffic.PeriodUs - 1) / traffic.PeriodUs * traffic.PeriodUs;
            if (first < until)
                yield return traffic with { FirstUs = Board(first), UntilUs = Board(first) + until - first };
        }
    }
}
