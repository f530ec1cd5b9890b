using Locum.Boards;
using Locum.Diagnostics;
using Locum.Model;

namespace Locum.Planning;

/// <summary>Tells what cannot fit a board's RAM before a linker does; that one has the last word.</summary>
internal static class MemoryPlanner
{
    // The core's state of a frame it sends: next release, skipped releases, place in the queue, flags.
    private const int FrameBytes = 8;
    private const int DelayedValueBytes = 4;

    /// <summary>What the variables of modules need at least, bytes.</summary>
    public static long AtLeast(IEnumerable<PlannedFrame> frames) => frames.Sum(f =>
        FrameBytes + f.Frame.AllFields.Sum(p => p.Source is LiveValue { Live: Lag lag } ? (long)lag.Delay * DelayedValueBytes : 0));

    public static void Check(BoardUse use, BoardKind kind, IReadOnlyList<PlannedFrame> frames, DiagnosticBag diagnostics)
    {
        var need = AtLeast(frames);
        if (kind.RamBytes > 0 && need > kind.DataBytes)
            diagnostics.Add(Codes.NoRam, use.Span, $"the modules need {need} bytes of RAM or more, {kind.Name} has {kind.DataBytes} beside its stack", "shorten delays of followers, each period of delay takes 4 bytes; or use two boards");
    }
}
