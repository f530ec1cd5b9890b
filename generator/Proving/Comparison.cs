using Locum.Planning;
using Locum.Simulation;

namespace Locum.Proving;

/// <summary>Holds what a program printed against the simulator's result.</summary>
public static class Comparison
{
    /// <summary>The first difference in words, or null when there is none. Everything must be equal, times to the microsecond.</summary>
    public static string? FirstDifference(BoardPlan plan, SimulationResult expected, ProgramOutput actual)
    {
        var left = Order(expected.Frames.Where(f => f.Sender.Length > 0).Select(f => new PrintedFrame(f.Bus, f.Id, f.Data, f.AcceptedUs, f.StartUs, f.EndUs) { Format = f.Format }));
        var right = Order(actual.Frames);
        for (var i = 0; i < Math.Max(left.Count, right.Count); i++)
        {
            var wanted = left.ElementAtOrDefault(i);
            var got = right.ElementAtOrDefault(i);
            if (wanted is null || got is null || !Same(wanted, got))
                return Difference.Describe(plan, i, wanted, got, left);
        }
        for (var i = 0; i < Math.Max(expected.Modes.Count, actual.Modes.Count); i++)
        {
            var wanted = expected.Modes.ElementAtOrDefault(i);
            var got = actual.Modes.ElementAtOrDefault(i);
            if (wanted != got)
                return $"mode change {i + 1}:\n  simulator  {Mode(plan, wanted)}\n  program    {Mode(plan, got)}\n";
        }
        for (var i = 0; i < Math.Max(expected.Silences.Count, actual.Silences.Count); i++)
        {
            var wanted = expected.Silences.ElementAtOrDefault(i);
            var got = actual.Silences.ElementAtOrDefault(i);
            if (wanted != got)
                return $"silence {i + 1}:\n  simulator  {Silent(wanted)}\n  program    {Silent(got)}\n";
        }
        for (var i = 0; i < Math.Max(expected.Outputs.Count, actual.Outputs.Count); i++)
        {
            var wanted = expected.Outputs.ElementAtOrDefault(i);
            var got = actual.Outputs.ElementAtOrDefault(i);
            if (wanted != got)
                return $"output change {i + 1}:\n  simulator  {Switched(plan, wanted)}\n  program    {Switched(plan, got)}\n";
        }
        for (var row = 0; row < plan.Frames.Count; row++)
        {
            var wanted = Math.Min(expected.Skipped[0][row], 65_535);
            if (actual.Skipped.Count != plan.Frames.Count || wanted != actual.Skipped[row])
                return $"skipped releases of {plan.Frames[row].Sender}:\n  simulator  {wanted}\n  program    {(row < actual.Skipped.Count ? actual.Skipped[row] : "none printed")}\n";
        }
        return null;
    }

    // Frames that never got through have no order of their own.
    private static List<PrintedFrame> Order(IEnumerable<PrintedFrame> frames)
    {
        var all = frames.ToList();
        return
        [
            .. all.Where(f => f.EndUs >= 0),
            .. all.Where(f => f.EndUs < 0).OrderBy(f => f.Bus, StringComparer.Ordinal).ThenBy(f => f.Id.ArbitrationKey).ThenBy(f => f.AcceptedUs),
        ];
    }

    private static bool Same(PrintedFrame a, PrintedFrame b) =>
        a.Bus == b.Bus && a.Id == b.Id && a.Format == b.Format && a.Data.AsSpan().SequenceEqual(b.Data)
        && a.AcceptedUs == b.AcceptedUs && a.StartUs == b.StartUs && a.EndUs == b.EndUs;

    private static string Silent(SilenceChange? change) => change is null ? "(none)" : $"{change.AtUs} us  {(change.Reason is Model.Silence.None ? "talks" : $"silent, {change.Reason}")}";

    private static string Switched(BoardPlan plan, OutputChange? change) => change is null ? "(none)"
        : $"{change.AtUs} us  {plan.Outputs[change.Output].Output.Name} goes {(change.On ? "on" : "off")}";

    private static string Mode(BoardPlan plan, ModeChange? change) => change is null ? "(none)"
        : $"{change.AtUs} us  {plan.Modules[change.Module].Module.Name} enters {plan.Modules[change.Module].Module.Modes[change.Mode].Name}";
}
