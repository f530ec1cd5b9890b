using Locum.Model;
using Locum.Planning;
using Locum.Simulation;

namespace Locum.Tests.Properties;

/// <summary>What a series of proofs went through.</summary>
internal sealed class Tally
{
    private readonly Lock _lock = new();
    private int _cases;
    private int _addressChecked;
    private int _undefinedChecked;
    private int _clockWraps;
    private int _counterWraps;
    private int _silent;
    private long _frames;
    private long _seconds;

    /// <summary>Enough of what rarely happens: the clock wraps in two of three runs, counters in every other, and most boards go on sending.</summary>
    public bool IsRich => _clockWraps * 3 > _cases * 2 && _counterWraps * 2 > _cases && _silent * 3 < _cases;

    public void Add(BoardPlan plan, Stimulus stimulus, SimulationResult result, bool gcc, bool clang)
    {
        var counters = plan.Frames.Any(f => GoesRound(f, result));
        var silent = !result.Frames.Any(f => f.Sender.Length > 0 && f.EndUs > stimulus.EndUs / 2);
        lock (_lock)
        {
            _cases++;
            _addressChecked += gcc ? 1 : 0;
            _undefinedChecked += clang ? 1 : 0;
            _clockWraps += stimulus.Clock + (ulong)stimulus.EndUs > uint.MaxValue ? 1 : 0;
            _counterWraps += counters ? 1 : 0;
            _silent += silent ? 1 : 0;
            _frames += result.Frames.Count(f => f.Sender.Length > 0);
            _seconds += stimulus.EndUs / 1_000_000;
        }
    }

    public override string ToString() =>
        $"{_cases} cases equal over {_seconds} s, {_frames} frames; address and undefined sanitizers in {_addressChecked}, undefined alone in {_undefinedChecked}; "
        + $"the clock wraps in {_clockWraps}, a counter goes round in {_counterWraps}, nothing is sent in the second half of {_silent}";

    private static bool GoesRound(PlannedFrame frame, SimulationResult result) =>
        frame.Frame.Fields.Select(f => f.Source).OfType<CounterValue>().Select(c => frame.Owner.Module.Counters[c.Counter])
            .Any(c => !c.RestartOnEntry && (ulong)result.Frames.Count(f => f.Sender == frame.Sender) > c.Count);
}
