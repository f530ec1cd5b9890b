using Locum.Model;

namespace Locum.Simulation;

/// <summary>The current value of a counter (rules 13 and 14).</summary>
internal sealed class CounterState(Counter counter)
{
    private readonly ulong _count = counter.Count;
    private ulong _place = Place(counter, counter.Start);
    private ulong _frames;

    public Counter Counter { get; } = counter;

    public uint Value => Counter.From <= Counter.To
        ? (uint)(Counter.From + (_place * Counter.Step))
        : (uint)(Counter.From - (_place * Counter.Step));

    public void Advance(ulong times)
    {
        _frames += times;
        _place = (_place + (_frames / Counter.Every % _count)) % _count;
        _frames %= Counter.Every;
    }

    public void Restart()
    {
        _place = Place(Counter, Counter.Start);
        _frames = 0;
    }

    private static ulong Place(Counter counter, uint value) =>
        (Math.Max(counter.From, value) - Math.Min(counter.From, value)) / counter.Step;
}
