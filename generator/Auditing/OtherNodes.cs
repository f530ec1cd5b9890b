using Locum.Capture;
using Locum.Wire;

namespace Locum.Auditing;

/// <summary>What the cyclic identifiers of other nodes say about the logger.</summary>
/// <param name="SteadiestUs">Jitter of the steadiest one: the logger's, or less than that; 0 when there are too few, µs.</param>
/// <param name="LostShare">Share of their frames that are missing; 0 when there are too few.</param>
internal sealed record OtherNodes(long SteadiestUs, double LostShare)
{
    /// <summary>More than this is worth a word: 1 in 2000.</summary>
    public const double Noticeable = 0.0005;

    private const int EnoughOthers = 3;
    private const int EnoughFrames = 20;
    private const double Usual = 0.5;
    private const double High = 0.9;
    private const double NearShare = 0.25;
    private const double MostlyNear = 0.8;

    // A longer pause is a pause of the sender.
    private const int MostInARow = 5;

    /// <param name="own">Buses and identifiers of the board.</param>
    public static OtherNodes Of(Recording recording, IReadOnlySet<(int Bus, CanId Id)> own)
    {
        var jitters = new List<long>();
        var (cyclic, frames, lost) = (0, 0L, 0L);
        foreach (var series in recording.Series.Where(s => s.Count >= EnoughFrames && !own.Contains((s.Bus, s.Id))))
        {
            var distances = new List<long>();
            foreach (var run in series.Runs)
                for (var i = run.First + 1; i < run.End; i++)
                    distances.Add(series.TimesUs[i] - series.TimesUs[i - 1]);
            if (distances.Count is 0)
                continue;
            distances.Sort();
            var usual = distances[(int)(Usual * distances.Count)];
            var off = distances.Select(d => Math.Abs(d - usual)).Order().ToList();
            jitters.Add(off[(int)(High * off.Count)]);
            if (usual is 0 || distances.Count(d => Math.Abs(d - usual) <= NearShare * usual) < MostlyNear * distances.Count)
                continue;
            cyclic++;
            frames += series.Count;
            lost += distances.Select(d => (long)Math.Round((double)d / usual) - 1).Where(n => n is > 0 and <= MostInARow).Sum();
        }
        return new OtherNodes(jitters.Count < EnoughOthers ? 0 : jitters.Min(), cyclic < EnoughOthers ? 0 : (double)lost / (frames + lost));
    }
}
