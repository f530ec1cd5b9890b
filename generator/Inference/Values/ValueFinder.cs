using Locum.Inference.Payload;

namespace Locum.Inference.Values;

/// <summary>Describes fields about which nothing more is known than their values.</summary>
public static class ValueFinder
{
    /// <summary>The values of a field.</summary>
    public static ValueFinding Describe(Payloads payloads, FieldPlace place)
    {
        // How long each value stood: frames that come faster for a while do not make their value the usual one.
        var held = new Dictionary<ulong, long>();
        var history = new List<(int, ulong)>();
        ulong low = ulong.MaxValue;
        ulong high = 0;
        ulong before = 0;
        int changes = 0;
        for (int i = 0; i < payloads.Count; i++)
        {
            ulong value = place.Read(payloads.Data(i));
            low = Math.Min(low, value);
            high = Math.Max(high, value);
            long time = i + 1 < payloads.Count && payloads.Steps[i + 1] > 0 ? payloads.TimeUs(i + 1) - payloads.TimeUs(i) : 1;
            if (held.Count < ValueFinding.MostDistinct || held.ContainsKey(value))
                held[value] = held.GetValueOrDefault(value) + Math.Max(1, time);
            if (i > 0 && value != before)
            {
                changes++;
                if (history.Count < ValueFinding.MostHistory)
                    history.Add((i, value));
            }
            before = value;
        }
        return new ValueFinding
        {
            Place = place,
            Initial = payloads.Count > 0 ? place.Read(payloads.Data(0)) : 0,
            Usual = held.MaxBy(h => h.Value).Key,
            Range = (low, high),
            Distinct = held.Count,
            Changes = changes,
            History = history,
        };
    }
}
