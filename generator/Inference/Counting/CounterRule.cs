namespace Locum.Inference.Counting;

/// <summary>A counter as descriptions say it: from <see cref="From"/> towards <see cref="To"/> in steps, then from the beginning.</summary>
/// <param name="From">First value of a round.</param>
/// <param name="To">Last value; below <paramref name="From"/> it counts down.</param>
/// <param name="Step">Distance between values, at least 1; divides the distance from first to last value.</param>
public readonly record struct CounterRule(ulong From, ulong To, ulong Step)
{
    /// <summary>True when the values fall.</summary>
    public bool IsDown => To < From;

    /// <summary>Values in a round.</summary>
    public ulong Count => ((IsDown ? From - To : To - From) / Step) + 1;

    /// <summary>True for counters most people would choose: up by one from 0 to all bits, or to one less.</summary>
    public bool IsUsual(int bits)
    {
        ulong all = bits >= 64 ? ulong.MaxValue : (1UL << bits) - 1;
        return From is 0 && Step is 1 && (To == all || To == all - 1);
    }

    /// <summary>True if the counter ever has the value.</summary>
    public bool Has(ulong value) => IsDown
        ? value >= To && value <= From && (From - value) % Step is 0
        : value >= From && value <= To && (value - From) % Step is 0;

    /// <summary>The value behind another one of the counter.</summary>
    public ulong Next(ulong value) => value == To ? From : IsDown ? value - Step : value + Step;

    /// <summary>The place of a value in the round, from 0.</summary>
    public ulong Place(ulong value) => (IsDown ? From - value : value - From) / Step;
}
