using Locum.Diagnostics;
using Locum.Model;
using Locum.Parts;
using Locum.Text;

namespace Locum.Validation;

/// <summary>Resistors, loads and hold-up of a bench can be built.</summary>
internal sealed class BenchPartRule : IModuleRule
{
    public void Check(Module module, DiagnosticBag diagnostics)
    {
        if (module.Bench is not { } bench)
            return;
        var supply = bench.Supply;
        if (supply.FromV > supply.NominalV || supply.NominalV > supply.ToV)
            diagnostics.Add(Codes.BenchRange, supply.Span, $"a supply from {supply.FromV} V to {supply.ToV} V with {supply.NominalV} V in it runs backwards", "the nominal voltage lies between the lowest and the highest");
        foreach (var resistor in bench.Resistors)
            Check(resistor, bench.AmbientC, diagnostics);
        foreach (var load in bench.Loads)
            Check(load, supply.ToV / supply.NominalV, diagnostics);
        if (bench.HoldUp is { } holdUp)
            Check(holdUp, diagnostics);
    }

    private static void Check(BenchResistor resistor, decimal ambientC, DiagnosticBag diagnostics)
    {
        if (resistor.AtLeastOhm > resistor.AtMostOhm)
            diagnostics.Add(Codes.BenchRange, resistor.Span, $"a window from {resistor.AtLeastOhm} to {resistor.AtMostOhm} ohm runs backwards", "'at most' is not below 'at least'");
        else if (ResistorPick.Of(resistor.AtLeastOhm, resistor.AtMostOhm, resistor.TolerancePercent, resistor.Series) is null)
            diagnostics.Add(Codes.NoResistor, resistor.Span, $"no value of E{resistor.Series}, nor a pair, stays between {resistor.AtLeastOhm} and {resistor.AtMostOhm} ohm with {resistor.TolerancePercent} % of tolerance", "take parts of a closer tolerance or a finer series, or widen the window");
        if (Derating.Factor(ambientC, resistor.FullToC, resistor.ZeroAtC) is 0)
            diagnostics.Add(Codes.TooHot, resistor.Span, $"at {ambientC} degC '{resistor.Name}' may carry no power: its derating ends at {resistor.ZeroAtC} degC", "place it where it is cooler, or choose a part for more heat and state its 'derating'");
        if (resistor.Pulse is { } pulse && pulse.ForUs > pulse.EveryUs)
            diagnostics.Add(Codes.BenchTimes, pulse.Span, $"a pulse of '{resistor.Name}' lasts longer than the next one takes to come", "shorten 'for', or lengthen 'every'");
    }

    /// <param name="most">The highest current in times of the nominal one.</param>
    private static void Check(BenchLoad load, decimal most, DiagnosticBag diagnostics)
    {
        var last = -1L;
        foreach (var stage in load.Stages)
        {
            if (last < 0 && stage.AtUs is not 0)
                Time(stage.Span, $"the first stage of '{load.Name}' is not at 0", "write 'at: 0 s'");
            else if (stage.AtUs <= last)
                Time(stage.Span, $"a stage of '{load.Name}' does not come after the one before it", "put stages in order of time");
            last = stage.AtUs;
        }
        if (load.ForUs is { } time && time <= last)
            Time(load.Span, $"'{load.Name}' is switched off before its last stage", "lengthen 'for', or remove the stage");
        if (load.EveryUs is { } every && (load.ForUs is null || load.ForUs > every))
            Time(load.Span, $"'{load.Name}' starts again before it was switched off", "give 'for', not longer than 'every'");
        if (load.Wire is { } wire && Fuse.For(load.Stages.Max(s => s.CurrentA) * most) is { } fuse && !(CopperWire.LargestFuse(wire.SectionMm2) >= fuse))
            diagnostics.Add(Codes.ThinWire, wire.Span, $"'{load.Name}' needs a fuse of {fuse} A, which {wire.SectionMm2} mm2 do not carry{(CopperWire.LargestFuse(wire.SectionMm2) is { } carried ? $"; they carry {carried} A" : "")}", "take a thicker wire");

        void Time(Span span, string message, string mend) => diagnostics.Add(Codes.BenchTimes, span, message, mend);
    }

    // What the capacitor starts from is the supply before the dip less the diode.
    private static void Check(HoldUp holdUp, DiagnosticBag diagnostics)
    {
        if (holdUp.BeforeV - holdUp.DiodeV <= holdUp.LowestV)
            diagnostics.Add(Codes.NoHoldUp, holdUp.Span, $"behind the diode {holdUp.BeforeV - holdUp.DiodeV} V are left, and the regulator needs {holdUp.LowestV} V", "take a diode with less drop, a regulator for less input, or say what the supply is before the dip");
        if (holdUp.DipV > holdUp.BeforeV)
            diagnostics.Add(Codes.BenchRange, holdUp.Span, $"a dip from {holdUp.BeforeV} to {holdUp.DipV} V runs backwards", "'to' lies below the supply before the dip");
    }
}
