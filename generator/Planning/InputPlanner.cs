using Locum.Boards;
using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Planning;

/// <summary>Joins the modules' inputs and gives each a pin.</summary>
internal static class InputPlanner
{
    private static readonly string[] s_known = ["pin", "pull"];

    public static List<PlannedInput> Plan(BoardUse use, BoardKind kind, PinMap pins, DiagnosticBag diagnostics)
    {
        var joined = new List<Input>();
        foreach (var input in use.Modules.SelectMany(m => m.Inputs).Concat(GuardPlanner.Input(use) is { } enable ? [enable] : []))
        {
            if (joined.Find(i => i.Name == input.Name) is not { } known)
                joined.Add(input);
            else if (known.ActiveHigh != input.ActiveHigh || known.DebounceUs != input.DebounceUs)
                diagnostics.Add(Codes.InputMismatch, input.Span, $"'{input.Name}' has another level or debounce in another module of this board", "give both the same settings, or different names", known.Span);
        }
        if (joined.Count > 16)
            diagnostics.Add(Codes.TooMany, joined[16].Span, "a board has at most 16 inputs", "use a second board");
        foreach (var name in use.InputSettings.Keys.Where(n => joined.All(i => i.Name != n)))
            diagnostics.Add(Codes.UnknownInput, use.InputSettings[name].Values.Select(s => s.Span).FirstOrDefault(use.Span), $"no module of this board has an input '{Printable.Short(name)}'", Nearest.Mend(name, [.. joined.Select(b => b.Name)], "input"));
        // Pins that the user chose are taken first, so that defaults give way.
        var chosen = joined.Where(i => use.InputSettings.GetValueOrDefault(i.Name)?.ContainsKey("pin") is true)
            .ToDictionary(i => i.Name, i => Take(i, use.InputSettings[i.Name]["pin"]), StringComparer.Ordinal);
        var next = 0;
        return [.. joined.Select(PlanOne)];

        // The last one is tried and refused when all are taken.
        string NextDefault()
        {
            var all = kind.Defaults["inputs"];
            while (next < all.Count - 1 && !pins.IsFree(all[next]))
                next++;
            return kind.Default("inputs", next++);
        }

        PlannedPin? Take(Input input, Setting pin) => pins.Take(pin.Value, $"input '{input.Name}'", pin.Span);

        PlannedInput PlanOne(Input input, int index)
        {
            var given = use.InputSettings.GetValueOrDefault(input.Name) ?? new Dictionary<string, Setting>();
            foreach (var (name, setting) in given.Where(g => !s_known.Contains(g.Key)))
                diagnostics.Add(Codes.UnknownKey, setting.Span, $"an input has no setting '{Printable.Short(name)}'", Nearest.Mend(name, s_known, "setting"));
            var pull = given.GetValueOrDefault("pull")?.Value ?? (input.ActiveHigh ? "none" : "up");
            if (!kind.Pulls.Contains(pull))
                diagnostics.Add(Codes.UnknownWord, given.GetValueOrDefault("pull")?.Span ?? input.Span, $"{kind.Name} cannot pull a pin '{Printable.Short(pull)}'", $"use one of: {string.Join(", ", kind.Pulls)}");
            var pin = chosen.TryGetValue(input.Name, out var own) ? own
                : kind.Default("inputs", 0) is "" ? null
                : pins.Take(NextDefault(), $"input '{input.Name}'", input.Span);
            return new PlannedInput(index, input.Name, input.ActiveHigh, input.DebounceUs, pin, pull);
        }
    }
}
