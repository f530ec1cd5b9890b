using Locum.Model;
using Locum.Reporting;

namespace Locum.Auditing;

/// <summary>Turns the verdicts on payloads into findings: one for each field and way of being wrong.</summary>
internal sealed class PayloadCheck(Sink sink)
{
    /// <summary>A chance below this is none: 1 in 10^6.</summary>
    private const double NoChanceLog10 = -6;

    // At less than this many periods there is one release between two frames.
    private const double NextRelease = 1.9;

    public void Check(ModuleTrack module, FrameTrack track)
    {
        var wrong = new Dictionary<(FaultKind Kind, string Field), Wrong>();
        var verdicts = module.Verdicts[track];
        for (var i = 0; i < verdicts.Length; i++)
            foreach (var fault in verdicts[i].Faults)
            {
                if (fault.Kind is FaultKind.Checksum)
                    track.Wrong.Add(i);
                var key = (fault.Kind, fault.Field?.Name ?? "");
                if (!wrong.TryGetValue(key, out var found))
                    wrong[key] = found = new Wrong(fault, i);
                found.Count++;
                found.Last = i;
            }
        foreach (var (key, found) in wrong)
            Tell(track, key.Kind, found, verdicts.Length);
        CheckFrozen(module, track);
    }

    private void Tell(FrameTrack track, FaultKind kind, Wrong found, int all)
    {
        var seen = track.Seen[found.First];
        var share = found.Count == all ? $"in all {Words.Count(all, "frame")}" : $"in {found.Count} of {Words.Count(all, "frame")}";
        var field = found.Fault.Field;
        var got = field is null ? Row(track, seen) : kind is FaultKind.Checksum or FaultKind.Formula or FaultKind.Counter ? $"0x{found.Fault.Got:X}" : RawText.Of(found.Fault.Got, field);
        var (finding, message) = kind switch
        {
            FaultKind.Shape => (FindingKind.Shape, $"described with {found.Fault.Expected} bytes {share}"),
            FaultKind.Checksum => (FindingKind.Checksum, $"checksum {field!.Name} wrong {share}: first {got}, computed {found.Fault.Expected}"),
            FaultKind.Counter => (FindingKind.Counter, $"counter {field!.Name} at {got} {share}, which it never takes ({found.Fault.Expected})"),
            FaultKind.Fixed when field is null => (FindingKind.Value, $"bits outside the fields differ {share}: first {got}, described {found.Fault.Expected}"),
            FaultKind.Follow => (FindingKind.Value, $"{field!.Name} does not follow {share}: first {got}, expected {found.Fault.Expected}"),
            FaultKind.Formula => (FindingKind.Value, $"{field!.Name} is not what its formula gives {share}: first {got}, computed {found.Fault.Expected}"),
            _ => (FindingKind.Value, $"{field!.Name} is {got} {share}, described is {found.Fault.Expected}"),
        };
        if (kind is FaultKind.Shape)
            message = $"{(found.Fault.Expected.Contains("bytes", StringComparison.Ordinal) ? found.Fault.Expected : $"not sent as {found.Fault.Expected} frame")} {share}";
        sink.Add(finding, track, message, seen.StartUs, track.Seen[found.Last].StartUs, found.Count, field?.Span);
    }

    // Noise and ramps that stand still longer than chance or their shape allows.
    private void CheckFrozen(ModuleTrack module, FrameTrack track)
    {
        foreach (var field in track.Frame.Fields.Where(f => f.Source is LiveValue { Live: Noise or Ramp }))
        {
            var live = ((LiveValue)field.Source!).Live;
            var (run, longest, from, until, start) = (0, 0, 0L, 0L, 0L);
            ulong? before = null;
            for (var i = 0; i < track.Seen.Count; i++)
            {
                if (module.Verdicts[track][i].Has(FaultKind.Shape))
                    continue;
                var value = field.ReadBits(track.Data(track.Seen[i]));
                // A ramp begins anew with its frame, and moves with releases that are skipped.
                var goesOn = live is Noise || (i > 0 && track.Seen[i].UntilUs - track.Seen[i - 1].ReleasedUs < NextRelease * track.Frame.PeriodUs
                    && module.Stayed(track.Modes, track.Seen[i - 1].FromUs, track.Seen[i].UntilUs));
                run = value == before && goesOn ? run + 1 : 1;
                start = run is 1 ? track.Seen[i].StartUs : start;
                before = value;
                if (run <= longest || (live is Ramp { End: RampEnd.Hold } ramp && field.WithSign(value) == ramp.To))
                    continue;
                (longest, from, until) = (run, start, track.Seen[i].StartUs);
            }
            var frozen = live switch
            {
                Noise noise => Math.Log10(Math.Max(1, track.Seen.Count)) - ((longest - 1) * Math.Log10((2 * noise.Span) + 1)) < NoChanceLog10,
                Ramp ramp => longest > RampPlaces.Longest(ramp),
                _ => false,
            };
            if (frozen)
                sink.Add(FindingKind.Frozen, track, $"{field.Name} stands still over {Words.Count(longest, "frame")}, described is {(live is Noise ? "noise" : "a ramp")}", from, until, longest, field.Span);
        }
    }

    private static string Row(FrameTrack track, Seen seen) => string.Join(' ', track.Data(seen).ToArray().Select(b => b.ToString("X2")));

    private sealed class Wrong(Fault fault, int first)
    {
        public Fault Fault => fault;

        public int First => first;

        public int Last { get; set; }

        public int Count { get; set; }
    }
}
