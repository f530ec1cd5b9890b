using Locum.Diagnostics;
using Locum.Formatting;
using Locum.Text;

namespace Locum.Drafting;

/// <summary>The texts of a new project in canonical form: one board, one module, one frame to begin with.</summary>
public static class Starter
{
    /// <summary>The module's description.</summary>
    public static string Description(StarterOptions options)
    {
        var lines = new YamlLines();
        lines.Comment(0, "A start. Put in what the module really sends: identifiers, lengths, periods, base bytes, fields.");
        lines.Add(0, "locum: 1");
        lines.Add(0, $"module: {options.Module}");
        lines.Add(0, "summary: Say here what the module did and who listens to it");
        Hazard(options, lines);
        lines.Gap();
        lines.Add(0, "buses:");
        lines.Add(1, $"{options.Bus}: {{rate: {DraftWords.Rate(options.Rate)}, sample point: 87.5 %}}");
        lines.Gap();
        if (options.WakeLine is { } line)
            Modes(line, lines);
        Frame(options, lines);
        return Canonical(lines);
    }

    /// <summary>The project: which board runs the module.</summary>
    public static string Project(StarterOptions options)
    {
        var lines = new YamlLines();
        lines.Add(0, "locum: 1");
        lines.Add(0, $"project: {options.Project}");
        lines.Gap();
        lines.Add(0, "boards:");
        // The board's name is a folder's, too.
        lines.Add(1, $"{options.Module.Replace(' ', '-')}:");
        lines.Add(2, $"board: {options.Board}", "'locum boards' lists the others");
        lines.Add(2, $"modules: [{options.Module}.yaml]");
        lines.Comment(2, "Pins and controllers have defaults; the wiring page that 'locum generate' writes shows them.");
        lines.Add(2, $"stimulus: {options.Module}.stimulus.yaml");
        return Canonical(lines);
    }

    /// <summary>What happens around the board in a simulation.</summary>
    public static string Stimulus(StarterOptions options)
    {
        var lines = new YamlLines();
        lines.Add(0, "locum: 1");
        lines.Add(0, $"stimulus: {(options.WakeLine is null ? "ten seconds of traffic" : "the wake line goes on, then off")}");
        lines.Add(0, "for: 10 s");
        if (options.WakeLine is { } line)
        {
            lines.Add(0, "inputs:");
            lines.Add(1, $"{line}:");
            lines.Add(2, "- {at: 500 ms, level: active}");
            lines.Add(2, "- {at: 5 s, level: inactive}");
        }
        // A frame of another node must not have the module's identifier.
        var other = options.Id is { Value: 0x0C4, Extended: false } ? "0x0C5" : "0x0C4";
        lines.Add(0, "traffic:", "the other nodes; put in what a capture of the bus shows");
        lines.Add(1, $"{options.Bus}:");
        lines.Add(2, $"- {{id: {other}, every: 100 ms, data: 10 27 00 00 FF 7D 00 00}}");
        return Canonical(lines);
    }

    private static void Hazard(StarterOptions options, YamlLines lines)
    {
        if (!options.IsHazardous)
        {
            lines.Comment(0, "Restraints, brakes, steering, traction, high voltage: name the class here and add 'acknowledge'.");
            lines.Add(0, "hazard: none");
            return;
        }
        lines.Add(0, $"hazard: {options.Hazard}");
        lines.Comment(0, "Fill in who decided, why it is safe here, and under which rules. Until then nothing is generated.");
        lines.Add(0, "acknowledge: \"\"");
    }

    private static void Modes(string line, YamlLines lines)
    {
        lines.Add(0, "inputs:");
        lines.Add(1, $"{line}: {{kind: wake line, active: high, debounce: 20 ms}}");
        lines.Gap();
        lines.Add(0, "modes:", "the first is the mode at power-on");
        lines.Add(1, "asleep:");
        lines.Add(2, "sleep: yes");
        lines.Add(2, $"until: {{{line}: active, then: running}}");
        lines.Add(1, "running:");
        lines.Add(2, $"until: {{{line}: inactive, then: after-run}}");
        lines.Add(1, "after-run:");
        lines.Add(2, "for: 2 s");
        lines.Add(2, "then: asleep");
        lines.Add(2, $"until: {{{line}: active, then: running}}");
        lines.Gap();
    }

    private static void Frame(StarterOptions options, YamlLines lines)
    {
        lines.Add(0, "frames:");
        lines.Add(1, "Status:");
        lines.Add(2, $"id: {options.Id}", "what 'locum missing' or 'locum draft' finds in captures");
        // Eight digits of a small number do not say 29 bits by themselves.
        if (options.Id is { Extended: true, Value: <= Wire.CanId.MaxStandard })
            lines.Add(2, "id kind: 29 bit");
        lines.Add(2, "length: 8");
        lines.Add(2, "every: 100 ms");
        lines.Add(2, "offset: 10 ms");
        lines.Add(2, "base: 00 00 00 00 00 00 00 00");
        lines.Add(2, "fields:");
        lines.Add(3, options.WakeLine is null
            ? "state: {bit: 0, bits: 8, value: 1}"
            : "state: {bit: 0, bits: 8, value: {running: 1, after-run: 2}}");
        lines.Add(3, "alive: {bit: 48, bits: 4, counter: {from: 0, to: 15}}");
        lines.Add(3, "check: {bit: 56, bits: 8, checksum: {rule: crc8-sae-j1850, over: 0..6}}");
    }

    private static string Canonical(YamlLines lines)
    {
        var found = new DiagnosticBag();
        return Formatter.Format(new SourceText("new.yaml", lines.ToString()), found)
            ?? throw new InvalidOperationException($"the new project is no usable text: {found.Sorted[0].Message}");
    }
}
