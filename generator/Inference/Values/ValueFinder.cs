using Locum.Inference.Payload;

namespace Locum.Inference.Values;

/// <summary>Describes fields about which nothing more is known than their values.</summary>
public static class ValueFinder
{
    /// <summary>The values of a field.</summary>
    public static ValueFinding Describe(Payloads payloads, FieldPlace place)
    {
        var counts = new Dictionary<ulong, int>();
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
            if (counts.Count < ValueFinding.MostDistinct || counts.ContainsKey(value))
                counts[value] = counts.GetValueOrDefault(value) + 1;
            if (i > 0 && value != before)
            {
                changes++;
                if (history.Count < ValueFinding.MostHistory)
                    history.Add((i, value));
            }
            before = value;
        }
        var (usual, frames) = counts.MaxBy(c => c.Value);
        return new ValueFinding
        {
            Place = place,
            Initial = payloads.Count > 0 ? place.Read(payloads.Data(0)) : 0,
            Usual = usual,
            UsualFrames = frames,
            Range = (low, high),
            Distinct = counts.Count,
            Changes = changes,
            History = history,
        };
    }
}
