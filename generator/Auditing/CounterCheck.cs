using Locum.Model;
using Locum.Reporting;

namespace Locum.Auditing;

/// <summary>Counters: between two frames that carry one, it moves once for each frame that was sent with it (rules 13 and 14).</summary>
internal sealed class CounterCheck(Sink sink)
{
    /// <summary>Judges all counters of a module. Frames whose counter slipped are marked.</summary>
    /// <param name="ignored">Frames that another node sends as well.</param>
    public void Check(ModuleTrack module, IReadOnlySet<FrameTrack> ignored)
    {
        for (var index = 0; index < module.Module.Counters.Count; index++)
        {
            var run = new CounterRun(module, index);
            if (run.Carriers.Count is 0 || run.Carriers.Any(ignored.Contains))
                continue;
            if (run.Carriers.Any(t => t.Bus is null))
            {
                sink.Skip($"counter {run.Counter.Name}: a bus with frames that move it is not in the capture");
                continue;
            }
            foreach (var track in run.Carriers)
                CheckFrame(track, run);
        }
    }

    private void CheckFrame(FrameTrack track, CounterRun run)
    {
        var (tested, slips, frozen, first, last) = (0, 0, 0, 0L, 0L);
        Field? place = null;
        Carrier? before = null;
        var phase = new CounterPhase(run.Counter.Every, run.Counter.Count);
        foreach (var carrier in run.Of(track))
        {
            if (before is { } old && carrier.Place is { } now)
            {
                tested++;
                var step = (now + run.Counter.Count - old.Place!.Value) % run.Counter.Count;
                if (!run.Allows(old, carrier, step, phase))
                {
                    first = slips is 0 ? carrier.Seen.StartUs : first;
                    last = carrier.Seen.StartUs;
                    slips++;
                    frozen += step is 0 ? 1 : 0;
                    place ??= carrier.Field;
                    (step is 0 ? track.Repeated : track.Slipped).Add(carrier.Index);
                }
            }
            else
            {
                phase.Forget();
            }
            before = carrier.Place is null ? null : carrier;
        }
        if (slips is 0)
            return;
        var how = frozen == slips ? "stands still" : "moves wrongly";
        var also = frozen > 0 && frozen < slips ? $", stands still in {frozen} of them" : "";
        sink.Add(FindingKind.Counter, track, $"counter {place!.Name} {how} in {slips} of {Words.Count(tested, "step")}{also}", first, last, slips, place.Span);
    }
}
