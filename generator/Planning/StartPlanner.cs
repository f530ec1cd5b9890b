using Locum.Boards;
using Locum.Diagnostics;
using Locum.Model;
using Locum.Wire;

namespace Locum.Planning;

/// <summary>Whether a board runs early enough for its first frames and outputs.</summary>
internal static class StartPlanner
{
    // A shorter start is taken for granted unless the description says by when the first frame has to come.
    private const long NoticeableUs = 500_000;

    public static void Check(BoardUse use, BoardKind kind, IReadOnlyList<PlannedFrame> frames, DiagnosticBag diagnostics)
    {
        var start = use.Bootloader ? kind.StartBootloaderUs : kind.StartBareUs;
        foreach (var module in use.Modules)
        {
            if (module.FirstFrame is { } first)
                CheckModule(use, kind, module, first, start, diagnostics);
            foreach (var output in module.Outputs)
                CheckOutput(use, kind, module, output, start, diagnostics);
        }
        if (use.Bootloader && start > NoticeableUs)
            CheckOffsets(use, start, frames, diagnostics);
    }

    private static void CheckModule(BoardUse use, BoardKind kind, Module module, FirstFrame first, long start, DiagnosticBag diagnostics)
    {
        if (FirstTime.OfFrame(module) is not { } soonest || start + soonest.Us <= first.WithinUs)
            return;
        diagnostics.Add(Codes.StartsTooLate, first.Span,
            $"the first frame of '{module.Name}' has to be there {Ms(first.WithinUs)} after power-on; {kind.Name} needs {Ms(start + soonest.Us)} ({Start(use, start)}, from there to the end of '{soonest.Frame.Name}' {Ms(soonest.Us)})",
            Mend(use, kind, first.WithinUs - soonest.Us, "the first frame (offset, modes before it)"), use.KindSpan);
    }

    private static void CheckOutput(BoardUse use, BoardKind kind, Module module, Output output, long start, DiagnosticBag diagnostics)
    {
        if (output.WithinUs is not { } within || FirstTime.OfOutput(output, module) is not { } soonest || start + soonest <= within)
            return;
        diagnostics.Add(Codes.StartsTooLate, output.Span,
            $"'{output.Name}' has to be on {Ms(within)} after power-on; {kind.Name} needs {Ms(start + soonest)} ({Start(use, start)}, from there {Ms(soonest)})",
            Mend(use, kind, within - soonest, "it ('after', modes before it, 'debounce')"), use.KindSpan);
    }

    private static string Start(BoardUse use, long start) => $"power-on to first instruction {Ms(start)}{(use.Bootloader ? " with the bootloader" : "")}";

    private static string Mend(BoardUse use, BoardKind kind, long left, string what)
    {
        if (use.Bootloader && kind.StartBareUs <= left)
            return "remove the bootloader ('bootloader: no' and flash through the programmer)";
        var buses = use.Modules.SelectMany(m => m.Buses).DistinctBy(b => b.Name).ToList();
        var other = BoardCatalogue.Names.Select(n => BoardCatalogue.Find(n)!)
            .Where(k => k.StartBareUs > 0 && k.StartBareUs <= left && k.Controllers >= buses.Count && (k.Fd || buses.All(b => b.DataRate is null)))
            .Select(k => $"{k.Name} ({Ms(k.StartBareUs)})").ToList();
        return other.Count > 0 ? $"use a board that starts sooner: {string.Join(", ", other)}"
            : left > 0 ? $"no board starts within {Ms(left)}: shorten the way to {what}"
            : $"shorten the way to {what}; it takes longer than the time that it has";
    }

    // Offsets count from power-on of the firmware; the first mode's frames cannot be earlier than that. Where a
    // description says what is early enough, that is looked at instead.
    private static void CheckOffsets(BoardUse use, long start, IReadOnlyList<PlannedFrame> frames, DiagnosticBag diagnostics)
    {
        var wired = frames.Where(f => f.Owner.Module.FirstFrame is null && f.Frame.Modes.Contains(0)).MinBy(f => f.Frame.OffsetUs);
        if (wired is not null && wired.Frame.OffsetUs < start)
            diagnostics.Add(Codes.StartsTooLate, use.Span, $"with its bootloader the board runs {start / 1000} ms after power-on; '{wired.Sender}' is due {wired.Frame.OffsetUs / 1000} ms after it", "remove the bootloader ('bootloader: no' and flash through the programmer)");
    }

    private static string Ms(long us) => $"{us / 1000.0:0.###} ms";
}
