using Locum.Planning;
using Locum.Proving;
using Locum.Simulation;
using Locum.Wire;
using Xunit;

namespace Locum.Tests.Firmware;

/// <summary>Holds an emulated board's frames against the simulator's and measures how late they were released.</summary>
/// <param name="WorstUs">Largest delay from the simulator's acceptance to the board's.</param>
/// <param name="AloneUs">Largest delay of frames that are the only work of their instant.</param>
/// <param name="JitterUs">Spread of the delay over those frames.</param>
/// <param name="Compared">Frames that were compared.</param>
internal sealed record Latency(double WorstUs, double AloneUs, double JitterUs, int Compared)
{
    private const long ApartUs = 500;

    /// <summary>Fails unless bytes and order are identical on every bus and no release is early or later than allowed.</summary>
    public static Latency Check(BoardPlan plan, SimulationResult expected, EmulatedRun run, double toleranceUs)
    {
        Assert.Empty(run.Output.Faults);
        var worst = 0.0;
        var alone = new List<double>();
        var compared = 0;
        // On any bus: one processor serves them all. A mode change is work, too.
        var instants = expected.Frames.Where(f => f.Sender.Length > 0).Select(f => f.AcceptedUs).Concat(expected.Modes.Select(m => m.AtUs)).Order().ToArray();
        foreach (var bus in plan.Buses.Select(b => b.Name))
        {
            var wanted = expected.Frames.Where(f => f.Bus == bus && f.Sender.Length > 0).OrderBy(f => f.AcceptedUs).ThenBy(f => f.Id.ArbitrationKey).ToList();
            var got = run.Output.Frames.Where(f => f.Bus == bus).OrderBy(f => f.AcceptedUs).ToList();
            // The last instant may lie on both sides of the end.
            var count = Math.Min(wanted.Count, got.Count);
            Assert.InRange(got.Count, wanted.Count - 2, wanted.Count + 2);
            for (var i = 0; i < count; i++)
            {
                Assert.True(wanted[i].Id == got[i].Id && wanted[i].Data.AsSpan().SequenceEqual(got[i].Data),
                    $"{bus}, frame {i + 1}: simulator {Text(wanted[i])}, board {run.Clock.Simulated(got[i].AcceptedUs)} us {got[i].Id} {Convert.ToHexString(got[i].Data)}");
                // A frame that follows another one of the board inherits how late that was.
                var before = i - 1;
                while (before >= 0 && wanted[before].Sender != wanted[i].Sender)
                    before--;
                if (before < 0 || !IsPaced(wanted[i], wanted[before]))
                    before = Follows(plan, expected, wanted, i);
                var inherited = before < 0 ? 0 : run.Clock.Simulated(got[before].EndUs) - wanted[before].EndUs;
                var delay = run.Clock.Simulated(got[i].AcceptedUs) - wanted[i].AcceptedUs - inherited;
                Assert.True(delay >= -2 && delay <= toleranceUs, $"{Text(wanted[i])} was released {delay:0.0} us late");
                worst = Math.Max(worst, delay);
                if (IsAlone(instants, wanted[i].AcceptedUs))
                    alone.Add(delay);
            }
            compared += count;
        }
        return new Latency(worst, alone.DefaultIfEmpty().Max(), alone.Count > 1 ? alone.Max() - alone.Min() : 0, compared);
    }

    // The packets of a transfer count from the leaving of the frame before: what that one was late is not this one's fault.
    private static bool IsPaced(SentFrame frame, SentFrame before) => frame.Id.Extended && ParameterGroup.Of(frame.Id) is ParameterGroup.Packets
        && (frame.AcceptedUs == before.EndUs || (byte)(frame.Id.Value >> 8) is 255);

    // The board's own frame behind which a consecutive frame of an answer is sent; -1 when a tester's frame asks for it, and for other frames.
    private static int Follows(BoardPlan plan, SimulationResult expected, List<SentFrame> wanted, int at)
    {
        var frame = wanted[at];
        if (frame.Data.Length is 0 || frame.Data[0] >> 4 is not 2 || plan.Frames.FirstOrDefault(f => f.Frame.IsAnswer && f.Frame.Id == frame.Id && f.Sender == frame.Sender) is not { } answer)
            return -1;
        var module = answer.Owner.Module;
        var request = module.Receives[module.Channels.Single(c => c.Frame == answer.IndexInModule).Request].Id;
        var before = wanted.FindLastIndex(at - 1, f => f.Id == frame.Id);
        var asked = expected.Frames.Any(f => f.Sender is "" && f.Bus == frame.Bus && f.Id == request && f.EndUs > wanted[before].EndUs && f.EndUs <= frame.AcceptedUs);
        return asked ? -1 : before;
    }

    private static bool IsAlone(long[] instants, long at)
    {
        var place = Array.BinarySearch(instants, at);
        return (place is 0 || instants[place - 1] < at - ApartUs) && (place == instants.Length - 1 || instants[place + 1] > at + ApartUs);
    }

    private static string Text(SentFrame frame) => $"{frame.AcceptedUs} us {frame.Sender} {Convert.ToHexString(frame.Data)}";
}
