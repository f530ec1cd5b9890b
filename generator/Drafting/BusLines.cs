using Locum.Inference;
using Locum.Inference.Buses;
using Locum.Wire;

namespace Locum.Drafting;

/// <summary>The section of buses. A capture does not say the bit rate; where it shows it or not is said beside.</summary>
internal static class BusLines
{
    private const double MostLoad = 0.6;
    private const double MostOwnLoad = 0.65;

    private static readonly int[] s_usual = [125_000, 250_000, 500_000, 1_000_000];

    /// <summary>Names the buses and settles their rates.</summary>
    public static void Settle(DraftContext context)
    {
        var names = new DraftNames();
        foreach (var bus in context.Findings.Buses)
        {
            context.BusNames[bus.Bus] = names.Unique(bus.Name, "bus");
            context.Rates[bus.Bus] = context.Options.Rate ?? bus.SeenRate ?? Least(context.Findings, bus);
        }
    }

    /// <summary>Writes the section.</summary>
    public static void Write(DraftContext context, YamlLines lines)
    {
        lines.Add(0, "buses:");
        // A bus whose frames are all left out would be a bus without frames.
        foreach (var bus in context.Findings.Buses.Where(b => context.Findings.Frames.Any(f => f.Series.Bus == b.Bus && f.Transport is null)))
        {
            int rate = context.Rates[bus.Bus];
            string name = context.BusNames[bus.Bus];
            string data = HasFd(context, bus) ? ", data rate: 2 Mbit/s" : "";
            double load = bus.BitsPerSecond / rate;
            string note = DraftWords.Text($"load {100 * load:0.#} %{(HasFd(context, bus) ? "; the data rate is a guess" : "")}");
            var fact = context.Options.Rate is not null ? new Fact(name, "bit rate", DraftWords.Rate(rate), Confidence.Possible, default, "", $"as given; {note}")
                : bus.SeenRate is not null ? new Fact(name, "bit rate", DraftWords.Rate(rate), bus.Evidence.Confidence, bus.Evidence, "frame right behind another", note)
                : new Fact(name, "bit rate", DraftWords.Rate(rate), Confidence.Possible, default, "", $"the lowest usual rate that carries this: {note}; no capture holds it, check");
            lines.Add(1, $"{name}: {{rate: {DraftWords.Rate(rate)}{data}}}", context.Tell(fact));
        }
    }

    private static bool HasFd(DraftContext context, BusFinding bus) =>
        bus.HasFd || context.Findings.Frames.Any(f => f.Series.Bus == bus.Bus && f.Format is not FrameFormat.Classic);

    // The lowest usual rate that carries all frames, and the module's own ones with room to spare.
    private static int Least(ModuleFindings findings, BusFinding bus) =>
        s_usual.FirstOrDefault(r => bus.BitsPerSecond <= MostLoad * r && Own(findings, bus.Bus, r), s_usual[^1]);

    private static bool Own(ModuleFindings findings, int bus, int rate)
    {
        double load = 0;
        foreach (var frame in findings.Frames.Where(f => f.Series.Bus == bus && f.Sending.NominalUs > 0))
        {
            double wire = WireLength.Maximum(frame.Format, frame.Series.Id.Extended, frame.Payloads.Length).WithIntermission.TimeUs(rate, null);
            long period = frame.Sending.BurstCount > 0 ? Math.Min(frame.Sending.BurstUs, frame.Sending.NominalUs) : frame.Sending.NominalUs;
            if (wire > period)
                return false;
            load += wire / frame.Sending.NominalUs;
        }
        return load <= MostOwnLoad;
    }
}
