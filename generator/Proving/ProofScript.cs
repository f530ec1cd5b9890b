using System.Text;
using Locum.Model;
using Locum.Planning;

namespace Locum.Proving;

/// <summary>Stimulus → the script that the PC program and the emulated boards read (format: script.h of the PC board).</summary>
public static class ProofScript
{
    public static string Of(BoardPlan plan, Stimulus stimulus)
    {
        var text = new StringBuilder();
        text.Append($"end {stimulus.EndUs}\n");
        text.Append($"clock {stimulus.Clock}\n");
        foreach (var input in plan.Inputs.Where(i => !i.ActiveHigh))
            text.Append($"input 0 {input.Index} 1\n");
        foreach (var change in stimulus.Inputs.Where(c => plan.Outputs.All(o => o.Output.Name != c.Input)))
            foreach (var input in plan.Inputs.Where(i => i.Name == change.Input))
                text.Append($"input {change.AtUs} {input.Index} {(change.Active == input.ActiveHigh ? 1 : 0)}\n");
        foreach (var traffic in stimulus.Traffic)
            foreach (var bus in plan.Buses.Where(b => b.Name == traffic.Bus))
                text.Append($"traffic {bus.Index} {FrameWord.Of(traffic.Id, traffic.Format):X8} {Data(traffic.Data)} {traffic.FirstUs} {traffic.PeriodUs} {traffic.UntilUs}\n");
        foreach (var blocked in stimulus.Blocked)
            foreach (var bus in plan.Buses.Where(b => b.Name == blocked.Bus))
                text.Append($"blocked {bus.Index} {blocked.FromUs} {blocked.UntilUs}\n");
        foreach (var stall in stimulus.Stalls)
            text.Append($"stall {stall.FromUs} {stall.UntilUs}\n");
        foreach (var off in stimulus.BusOffs)
            foreach (var bus in plan.Buses.Where(b => b.Name == off.Bus))
                text.Append($"busoff {bus.Index} {off.AtUs}\n");
        foreach (var reset in stimulus.Resets)
            text.Append($"reset {reset.AtUs} {Cause(reset.Cause)}\n");
        return text.ToString();
    }

    private static string Cause(ResetCause cause) => cause switch
    {
        ResetCause.Power => "power",
        ResetCause.Watchdog => "watchdog",
        ResetCause.BrownOut => "brownout",
        _ => throw new ArgumentOutOfRangeException(nameof(cause)),
    };

    private static string Data(byte[] data) => data.Length is 0 ? "-" : Convert.ToHexString(data);
}
