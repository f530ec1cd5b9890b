using Locum.Inference.Payload;
using Locum.Inference.Timing;

namespace Locum.Inference.Relations;

/// <summary>Finds the value that a following field has while what it follows is silent, and how long that takes.</summary>
internal static class LostSource
{
    /// <summary>The value and the time, each null when it was not seen.</summary>
    public static (ulong? Lost, long? TimeoutUs) Find(FollowTrial trial, Payloads payloads, SourceField source, FollowRule rule)
    {
        var last = trial.Last(source.Series);
        var lost = new Dictionary<ulong, int>();
        long oldestHit = 0;
        long youngestMiss = long.MaxValue;
        for (int i = rule.Delay; i < last.Length; i++)
        {
            ulong value = trial.Values[i];
            if (last[i - rule.Delay] < 0 || source.Read(last[i - rule.Delay]) is not { } raw)
            {
                Miss(value, long.MaxValue);
                continue;
            }
            long age = payloads.TimeUs(i) - source.Series.TimesUs[last[i - rule.Delay]];
            if ((long)value == rule.Apply(raw))
                oldestHit = Math.Max(oldestHit, age);
            else if (trial.IsStale(source.Series, last[i - rule.Delay], i))
                Miss(value, age);
        }
        ulong? usual = lost.Count is 0 ? null : lost.MaxBy(l => l.Value).Key;
        bool seen = youngestMiss > oldestHit && youngestMiss < long.MaxValue;
        return (usual, seen ? NominalTime.Between(oldestHit, youngestMiss) : null);

        void Miss(ulong value, long age)
        {
            lost[value] = lost.GetValueOrDefault(value) + 1;
            youngestMiss = Math.Min(youngestMiss, age);
        }
    }
}
