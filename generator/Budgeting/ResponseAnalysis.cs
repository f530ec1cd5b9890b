using Locum.Wire;

namespace Locum.Budgeting;

/// <summary>
/// Worst-case response times on a CAN bus: Davis, Burns, Bril, Lukkien, "Controller Area Network (CAN) schedulability
/// analysis: Refuted, revisited and revised", Real-Time Systems 35, 2007 (from memory): blocking, level busy period,
/// all instances in it, release jitter, errors.
/// </summary>
/// <remarks>
/// The paper lets the frame of highest priority of each node take part in every arbitration. A controller with few
/// mailboxes does not: while frames of lower priority hold them all, a frame waits outside. That wait ends when the
/// highest of them has left, and until then nothing else of the board is sent; so only other nodes' frames lengthen it, those
/// that are pending at its beginning included. It counts as jitter of the frame that waits (in the manner of Khan, Davis,
/// Navet, "Schedulability analysis of CAN with non-abortable transmission requests", 2011, from memory). Bounds and waits
/// depend on each other; they are raised until they agree.
/// </remarks>
public static class ResponseAnalysis
{
    // No bound beyond this is of use, and the search for one has to end.
    private const long LongestUs = 60_000_000;
    private const int MostRounds = 200;

    /// <summary>One result per stream, in order of priority.</summary>
    public static IReadOnlyList<Response> Of(IEnumerable<BusArrivals> streams, BusConditions conditions)
    {
        var ordered = streams.OrderBy(s => s.Id, Comparer<CanId>.Create(CanId.CompareArbitration)).ThenBy(s => s.Name, StringComparer.Ordinal).ToArray();
        var levels = Levels(ordered);
        var waits = new long?[ordered.Length];
        Array.Fill(waits, 0);
        var bounds = new Bound[ordered.Length];
        for (var round = 0; ; round++)
        {
            for (var m = 0; m < ordered.Length; m++)
                bounds[m] = Find(ordered, levels, waits, m, bounds[m], conditions);
            // Waits that still grow after many rounds have no bound that is of use; what does not depend on them keeps its own.
            if (!Raise(ordered, levels, bounds, waits, conditions, giveUp: round >= MostRounds))
                return [.. ordered.Select((s, m) => new Response(s, bounds[m].FromReleaseUs, bounds[m].BlockingUs, waits[m] ?? 0, bounds[m].Instances))];
        }
    }

    // Of each stream the first index whose priority is lower; streams with one identifier hinder each other.
    private static int[] Levels(BusArrivals[] ordered)
    {
        var levels = new int[ordered.Length];
        for (var m = ordered.Length - 1; m >= 0; m--)
            levels[m] = m + 1 < ordered.Length && ordered[m + 1].Id == ordered[m].Id ? levels[m + 1] : m + 1;
        return levels;
    }

    private static Bound Find(BusArrivals[] all, int[] levels, long?[] waits, int m, Bound before, BusConditions conditions)
    {
        var level = levels[m];
        long blocking = 0, longest = 0;
        for (var k = level; k < all.Length; k++)
            blocking = Math.Max(blocking, all[k].SlotUs);
        for (var k = 0; k < level; k++)
        {
            if (waits[k] is null)
                return before with { FromReleaseUs = null, BlockingUs = blocking };
            longest = Math.Max(longest, all[k].SlotUs);
        }
        var own = all[m];
        var jitter = own.JitterUs + waits[m]!.Value;
        if (Busy() is not { } busy)
            return before with { FromReleaseUs = null, BlockingUs = blocking };
        var instances = Ceiling(busy + jitter, own.PeriodUs);
        // Times only grow from round to round and from instance to instance: the search goes on where it was.
        long worst = 0, first = 0, queue = Math.Max(before.QueueUs, blocking) - own.SlotUs;
        for (long q = 0; q < instances; q++)
        {
            if (Queue(q, queue + own.SlotUs) is not { } found)
                return before with { FromReleaseUs = null, BlockingUs = blocking };
            queue = found;
            if (q is 0)
                first = found;
            worst = Math.Max(worst, jitter + queue - (q * own.PeriodUs) + own.WireUs);
        }
        return new Bound(worst, blocking, instances, busy, first);

        long? Busy()
        {
            for (var t = Math.Max(before.BusyUs, own.SlotUs); t <= LongestUs;)
            {
                var next = conditions.ErrorsUs(t, longest) + blocking;
                for (var k = 0; k < level; k++)
                    next += Ceiling(t + all[k].JitterUs + waits[k]!.Value, all[k].PeriodUs) * all[k].SlotUs;
                if (next == t)
                    return t;
                t = next;
            }
            return null;
        }

        long? Queue(long q, long start)
        {
            for (var w = start; w <= LongestUs;)
            {
                var next = conditions.ErrorsUs(w + own.SlotUs, longest) + blocking + (q * own.SlotUs);
                for (var k = 0; k < level; k++)
                    if (k != m)
                        next += Ceiling(w + all[k].JitterUs + waits[k]!.Value + conditions.BitUs, all[k].PeriodUs) * all[k].SlotUs;
                if (next == w)
                    return w;
                w = next;
            }
            return null;
        }
    }

    // Raises the waits for mailboxes to what the bounds say; false when all stay.
    private static bool Raise(BusArrivals[] all, int[] levels, Bound[] bounds, long?[] waits, BusConditions conditions, bool giveUp)
    {
        var changed = false;
        foreach (var station in all.Select((s, m) => (Stream: s, Index: m)).Where(s => s.Stream.Station is not null).GroupBy(s => s.Stream.Station!.Value))
        {
            var boxes = station.Key < conditions.Mailboxes.Count ? conditions.Mailboxes[station.Key] : int.MaxValue;
            // From the lowest up: all mailboxes can hold frames below one that has as many below it as there are boxes;
            // the highest of them has at least boxes - 1 below it. One that is on the wire already leaves sooner.
            long? wait = 0;
            long longest = 0;
            var below = 0;
            foreach (var group in station.GroupBy(s => s.Stream.Id).Reverse())
            {
                foreach (var (_, m) in group)
                {
                    if (below < boxes || waits[m] is null || wait <= waits[m])
                        continue;
                    waits[m] = giveUp || wait is null || wait > LongestUs ? null : wait;
                    changed = true;
                }
                below++;
                longest = Math.Max(longest, group.Max(s => s.Stream.SlotUs));
                if (below >= boxes)
                    wait = wait is { } known && Leaves(all, levels, bounds, group.Last().Index, station.Key, conditions) is { } left ? Math.Max(Math.Max(known, longest), left) : null;
            }
        }
        return changed;
    }

    // The longest until a frame in a mailbox has left while nothing else of its board is sent.
    private static long? Leaves(BusArrivals[] all, int[] levels, Bound[] bounds, int m, int station, BusConditions conditions)
    {
        long longest = 0, blocking = 0;
        for (var k = 0; k < all.Length; k++)
        {
            if (k >= levels[m])
                blocking = Math.Max(blocking, all[k].SlotUs);
            else
                longest = Math.Max(longest, all[k].SlotUs);
        }
        for (var w = blocking; w <= LongestUs;)
        {
            var next = conditions.ErrorsUs(w + all[m].SlotUs, longest) + blocking;
            for (var k = 0; k < levels[m]; k++)
            {
                if (all[k].Station == station)
                    continue;
                if (bounds[k].FromReleaseUs is not { } response)
                    return null;
                next += Ceiling(w + response + conditions.BitUs, all[k].PeriodUs) * all[k].SlotUs;
            }
            if (next == w)
                return w + all[m].SlotUs;
            w = next;
        }
        return null;
    }

    private static long Ceiling(long dividend, long divisor) => (dividend + divisor - 1) / divisor;

    /// <param name="FromReleaseUs">From the release as meant to the end.</param>
    /// <param name="BusyUs">Length of the busy time.</param>
    /// <param name="QueueUs">Time that the first instance waits.</param>
    private readonly record struct Bound(long? FromReleaseUs, long BlockingUs, long Instances, long BusyUs, long QueueUs);
}
