using Locum.Planning;
using Locum.Simulation;
using Xunit;

namespace Locum.Tests.Firmware;

/// <summary>
/// Holds what left a board's buses against the simulator's frames where a driver stands between the board and its controller:
/// it is given one frame at a time and gives none back.
/// </summary>
/// <param name="Compared">Frames that were compared.</param>
/// <param name="WorstUs">Largest delay of a start of frame against the simulator's.</param>
/// <param name="Overtaken">Frames that had to wait for one less urgent that the driver had already.</param>
internal sealed record WireOrder(int Compared, double WorstUs, int Overtaken)
{
    // What is accepted later may not start any more.
    private const long EndUs = 10_000;
    private const double FrameBits = 160;
    // With tolerances from here on, frames follow what has left, which may be earlier, too.
    private const double PacedUs = 500;

    /// <summary>Fails unless each identifier's frames have the simulator's bytes, and starts and order differ only by what the driver holds.</summary>
    /// <param name="toleranceUs">Of a release, for what it waits for besides.</param>
    public static WireOrder Check(BoardPlan plan, SimulationResult expected, EmulatedRun run, double toleranceUs)
    {
        Assert.Empty(run.Output.Faults);
        var result = new WireOrder(0, 0, 0);
        foreach (var (bus, rate) in plan.Buses.Select(b => (b.Name, b.Rate)))
        {
            // A frame that comes too late for its turn waits for one that the driver has, and one of another node.
            var turnUs = 2e6 * FrameBits / rate;
            var wanted = expected.Frames.Where(f => f.Bus == bus && f.Sender.Length > 0 && f.StartUs >= 0).ToList();
            var got = run.Output.Frames.Where(f => f.Bus == bus && f.StartUs >= 0).OrderBy(f => f.StartUs).ToList();
            var pairs = new List<(SentFrame Wanted, Locum.Proving.PrintedFrame Got, double Start)>();
            Assert.Empty(got.Select(f => f.Id).Except(wanted.Select(f => f.Id)));
            foreach (var id in wanted.Select(f => f.Id).Distinct())
            {
                var ours = wanted.Where(f => f.Id == id).OrderBy(f => f.StartUs).ToList();
                var theirs = got.Where(f => f.Id == id).ToList();
                Assert.InRange(theirs.Count, ours.Count(f => f.AcceptedUs < expected.EndUs - EndUs), ours.Count + 1);
                foreach (var (ours1, theirs1) in ours.Zip(theirs))
                {
                    var start = run.Clock.Simulated(theirs1.StartUs);
                    Assert.True(ours1.Data.AsSpan().SequenceEqual(theirs1.Data) && ours1.Format == theirs1.Format, $"{bus} {id}: simulator {ours1.StartUs} us {Convert.ToHexString(ours1.Data)}, board {start:0.0} us {Convert.ToHexString(theirs1.Data)}");
                    Assert.True(start >= ours1.AcceptedUs - (toleranceUs > PacedUs ? toleranceUs : 2) && start <= ours1.StartUs + toleranceUs + turnUs, $"{bus} {id} of {ours1.AcceptedUs} us started at {start:0.0} us, in the simulator at {ours1.StartUs} us");
                    pairs.Add((ours1, theirs1, start));
                    result = result with { Compared = result.Compared + 1, WorstUs = Math.Max(result.WorstUs, start - ours1.StartUs) };
                }
            }
            result = result with { Overtaken = result.Overtaken + CheckOrder([.. pairs.OrderBy(p => p.Start)], run, toleranceUs) };
        }
        return result;
    }

    private static int CheckOrder(List<(SentFrame Wanted, Locum.Proving.PrintedFrame Got, double Start)> pairs, EmulatedRun run, double toleranceUs)
    {
        var overtaken = 0;
        for (var i = 0; i < pairs.Count; i++)
        {
            // Those that waited when this one started and are more urgent.
            for (var k = i + 1; k < pairs.Count && pairs[k].Start < pairs[i].Start + 5_000; k++)
            {
                if (pairs[k].Wanted.Id.ArbitrationKey >= pairs[i].Wanted.Id.ArbitrationKey || pairs[k].Wanted.AcceptedUs > pairs[i].Start - toleranceUs)
                    continue;
                var given = run.Clock.Simulated(pairs[i].Got.AcceptedUs);
                Assert.True(given <= pairs[k].Wanted.AcceptedUs + toleranceUs, $"{pairs[i].Wanted.Id} was given to the driver at {given:0.0} us, before {pairs[k].Wanted.Id}, which had waited since {pairs[k].Wanted.AcceptedUs} us");
                overtaken++;
            }
        }
        return overtaken;
    }
}
