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
            if (trial.Expected(source, rule, last, i) is not var (expected, late))
            {
                lost[value] = lost.GetValueOrDefault(value) + 1;
                continue;
            }
            long age = payloads.TimeUs(i) - source.Series.TimesUs[last[i]];
            if ((long)value == expected || (long)value == late)
                oldestHit = Math.Max(oldestHit, age);
            else if (age > oldestHit)
                (youngestMiss, lost[value]) = (Math.Min(youngestMiss, age), lost.GetValueOrDefault(value) + 1);
        }
        ulong? usual = lost.Count is 0 ? null : lost.MaxBy(l => l.Value).Key;
        bool seen = youngestMiss > oldestHit && youngestMiss < long.MaxValue;
        return (usual, seen ? NominalTime.Between(oldestHit, youngestMiss) : null);
    }
}
