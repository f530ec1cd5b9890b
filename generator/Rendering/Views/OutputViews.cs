using Locum.Binding;
using Locum.Model;
using Locum.Planning;

namespace Locum.Rendering.Views;

/// <summary>An output in C and on the board.</summary>
/// <param name="C">Its name behind its module's.</param>
/// <param name="Module">C name of the module's index.</param>
/// <param name="Modes">C names of the modes in which it is wanted; empty: every mode.</param>
/// <param name="Alternatives">C expressions of which one must hold; empty: nothing more is asked.</param>
/// <param name="Inputs">What the expressions look at.</param>
/// <param name="ReadBack">The board's input on the same wire; -1: none.</param>
/// <param name="Low">1 if the pin is low while the output is on.</param>
public sealed record OutputView(
    int Index, string Name, string C, string Comment, string Module, IReadOnlyList<string> Modes, IReadOnlyList<string> Alternatives,
    IReadOnlyList<InputView> Inputs, long AfterUs, long ForUs, string Active, int Low, string Pin, string PortLetter, int PortBit, int ReadBack);

internal static class OutputViews
{
    private const int Short = 70;

    public static OutputView Of(PlannedOutput planned, IReadOnlyList<InputView> inputs)
    {
        var (output, owner) = (planned.Output, planned.Owner);
        var module = owner.Module;
        var c = Names.ToC(module.Name);
        var pin = planned.Pin is null ? null : BoardViews.Pin(planned.Pin);
        return new OutputView(
            planned.Index,
            CText.Comment(output.Name),
            $"{c}_output_{Names.ToC(output.Name)}",
            CText.Comment($"Output {output.Name}: on {(output.AfterUs is 0 ? "at once" : $"after {CText.Time(output.AfterUs)}")}{(output.ForUs is { } time ? $", for {CText.Time(time)} at most" : "")}."),
            $"MODULE_{c.ToUpperInvariant()}",
            output.Modes.Count == module.Modes.Count ? [] : [.. output.Modes.Select(m => $"MODE_{c}_{Names.ToC(module.Modes[m].Name)}".ToUpperInvariant())],
            [.. output.While.Select(all => Joined([.. all.Select(w => ConditionText.Of(w, owner, inputs))]))],
            [.. output.While.SelectMany(all => all).OfType<InputCondition>().Select(w => w.Input).Distinct().Order().Select(i => inputs[owner.Inputs[i]])],
            output.AfterUs,
            output.ForUs ?? 0,
            output.ActiveHigh ? "high" : "low",
            output.ActiveHigh ? 0 : 1,
            pin?.Name ?? "no pin",
            pin?.PortLetter ?? "",
            pin?.PortBit ?? 0,
            planned.ReadBack ?? -1);
    }

    // On one line where that has room.
    private static string Joined(IReadOnlyList<string> conditions) =>
        string.Join(conditions.Sum(c => c.Length) > Short ? " &&\n             " : " && ", conditions);

    public static string Low(BoardPlan plan) => $"0x{plan.Outputs.Where(o => !o.Output.ActiveHigh).Aggregate(0u, (set, o) => set | 1u << o.Index):X4}u";
}
