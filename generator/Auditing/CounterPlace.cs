using Locum.Model;

namespace Locum.Auditing;

/// <summary>Places in the run of a counter.</summary>
internal static class CounterPlace
{
    /// <summary>How many steps a value is from the counter's first one; null for a value that the counter never takes.</summary>
    public static ulong? Of(Counter counter, ulong value)
    {
        if (value < Math.Min(counter.From, counter.To) || value > counter.Highest)
            return null;
        var distance = counter.From <= counter.To ? value - counter.From : counter.From - value;
        return distance % counter.Step is 0 ? distance / counter.Step : null;
    }
}
