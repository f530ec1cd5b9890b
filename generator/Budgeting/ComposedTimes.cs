using Locum.Planning;
using Locum.Simulation;
using Locum.Wire;

namespace Locum.Budgeting;

/// <summary>Exact lengths of the frames that a simulation composed, stuff bits counted.</summary>
public sealed class ComposedTimes
{
    private readonly Dictionary<(string Bus, string Sender), double> _mean;

    private ComposedTimes(Dictionary<(string Bus, string Sender), double> mean) => _mean = mean;

    /// <summary>Nothing composed: lengths are the longest possible.</summary>
    public static ComposedTimes None { get; } = new([]);

    /// <summary>Mean lengths by bus and sender.</summary>
    public static ComposedTimes Of(IReadOnlyList<BoardPlan> plans, IEnumerable<SimulationResult> results)
    {
        var buses = plans.SelectMany(p => p.Buses).DistinctBy(b => b.Name).ToDictionary(b => b.Name, StringComparer.Ordinal);
        return new ComposedTimes(results.SelectMany(r => r.Frames).Where(f => f.Sender.Length > 0)
            .GroupBy(f => (f.Bus, f.Sender))
            .ToDictionary(g => g.Key, g => g.Average(f => (double)WireLength.Of(f.Id, f.Format, f.Data).WithIntermission.TimeUs(buses[f.Bus].Rate, buses[f.Bus].DataRate))));
    }

    /// <summary>Mean time with intermission, µs; null for a frame that was not composed.</summary>
    public double? MeanUs(string bus, string sender) => _mean.TryGetValue((bus, sender), out var mean) ? mean : null;
}
