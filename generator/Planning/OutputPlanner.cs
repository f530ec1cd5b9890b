using Locum.Boards;
using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Planning;

/// <summary>Gives each output a pin and finds the input that reads it back.</summary>
internal static class OutputPlanner
{
    private const int Most = 16;
    private static readonly string[] s_known = ["pin"];

    public static List<PlannedOutput> Plan(BoardUse use, BoardKind kind, PinMap pins, IReadOnlyList<PlannedModule> modules, IReadOnlyList<PlannedInput> inputs, DiagnosticBag diagnostics)
    {
        var all = modules.SelectMany(m => m.Module.Outputs.Select(o => (Owner: m, Output: o))).ToList();
        foreach (var same in all.GroupBy(o => o.Output.Name).Where(g => g.Count() > 1))
            foreach (var (_, output) in same.Skip(1))
                diagnostics.Add(Codes.OutputTwice, output.Span, $"another module of this board has an output '{output.Name}' as well", "give each output its own name", same.First().Output.Span);
        if (all.Count > Most)
            diagnostics.Add(Codes.TooMany, all[Most].Output.Span, $"a board has at most {Most} outputs", "use a second board");
        foreach (var (name, settings) in use.OutputSettings)
        {
            if (all.All(o => o.Output.Name != name))
                diagnostics.Add(Codes.UnknownInput, settings.Values.Select(s => s.Span).FirstOrDefault(use.Span), $"no module of this board has an output '{Printable.Short(name)}'", Nearest.Mend(name, [.. all.Select(o => o.Output.Name)], "output"));
            foreach (var (word, setting) in settings.Where(s => !s_known.Contains(s.Key)))
                diagnostics.Add(Codes.UnknownKey, setting.Span, $"an output has no setting '{Printable.Short(word)}'", Nearest.Mend(word, s_known, "setting"));
        }
        // As with inputs: pins that the user chose are taken first.
        var chosen = all.DistinctBy(o => o.Output.Name).Where(o => use.OutputSettings.GetValueOrDefault(o.Output.Name)?.ContainsKey("pin") is true)
            .ToDictionary(o => o.Output.Name, o => Take(o.Output, use.OutputSettings[o.Output.Name]["pin"].Value, use.OutputSettings[o.Output.Name]["pin"].Span), StringComparer.Ordinal);
        return [.. all.Select((o, i) => new PlannedOutput(i, o.Output, o.Owner, Pin(o.Output), ReadBack(o.Output)))];

        PlannedPin? Take(Output output, string pin, Text.Span span) => pins.Take(pin, $"output '{output.Name}'", span);

        // Nothing is switched by a pin that nobody chose, except where pins have no meaning.
        PlannedPin? Pin(Output output)
        {
            if (chosen.TryGetValue(output.Name, out var pin) || kind.Pins.Count is 0)
                return pin;
            diagnostics.Add(Codes.NoOutputPin, output.Span, $"output '{output.Name}' has no pin on '{use.Name}'", $"choose one in the project: 'outputs: {{{output.Name}: <pin>}}', free are {string.Join(", ", pins.Free())}", use.Span);
            return null;
        }

        int? ReadBack(Output output)
        {
            if (inputs.FirstOrDefault(i => i.Name == output.Name) is not { } input)
                return null;
            if (input.ActiveHigh != output.ActiveHigh)
                diagnostics.Add(Codes.WireMismatch, output.Span, $"the input of the same name is active {(input.ActiveHigh ? "high" : "low")}, the output {(output.ActiveHigh ? "high" : "low")}", "give both the same active level, or different names");
            return input.Index;
        }
    }
}
