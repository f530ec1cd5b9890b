using Locum.Diagnostics;
using Locum.Formatting;
using Locum.Inference;
using Locum.Text;

namespace Locum.Drafting;

/// <summary>Writes findings down as a description in canonical form, every inferred line with its evidence.</summary>
public static class Drafter
{
    private const string File = "draft.yaml";

    /// <summary>The draft of a module.</summary>
    public static Draft Write(ModuleFindings findings, DraftOptions options)
    {
        var context = new DraftContext(findings, options);
        var names = new DraftNames();
        foreach (var frame in findings.Frames)
            context.FrameNames.Add(names.Unique(DraftNames.Frame(frame.Series.Id), "Id"));
        BusLines.Settle(context);
        ModeLines.Settle(context);
        foreach (var (a, b, shared) in findings.SharedCounters)
        {
            string name = DraftWords.Text($"shared-{context.SharedCounters.Count / 2}");
            context.SharedCounters[(a, shared.A)] = name;
            context.SharedCounters[(b, shared.B)] = name;
        }
        string? text = findings.Frames.Any(f => f.Transport is null) ? Canonical(Lines(context)) : null;
        return new Draft
        {
            Text = text,
            Name = options.Name,
            Findings = findings,
            FrameNames = context.FrameNames,
            Facts = context.Facts,
            Unexplained = context.Unexplained,
        };
    }

    private static string Lines(DraftContext context)
    {
        // Frames first: they say which others are listened to.
        var frames = new YamlLines();
        for (int i = 0; i < context.Findings.Frames.Count; i++)
        {
            if (context.Findings.Frames[i].Transport is { } transport)
                context.LeaveOpen(i, "", DraftWords.Text($"possible: {transport.What} ({transport.Frames} frames, {transport.Messages} long messages); left out, see 'diagnostics'"));
            else
                new FrameLines(context, i).Write(frames);
        }
        var lines = new YamlLines();
        lines.Comment(0, $"Drafted from {Printable.Clean(context.Options.Source)}. Comments say how sure each line is – certain, likely or possible – and what was counted.");
        foreach (var open in context.Unexplained.Where(u => context.Findings.Frames[context.FrameNames.IndexOf(u.Subject)].Transport is not null))
            lines.Comment(0, $"Left out: {open.Id}, {open.Why}.");
        lines.Add(0, "locum: 1");
        lines.Add(0, $"module: {context.Options.Name}");
        lines.Comment(0, "No capture tells whether this concerns restraints, brakes, steering, traction or high voltage: decide, then write the class and 'acknowledge'.");
        lines.Add(0, "hazard: none");
        lines.Gap();
        BusLines.Write(context, lines);
        ReceiveLines.Write(context, lines);
        ModeLines.Write(context, lines);
        SharedCounterLines.Write(context, lines);
        lines.Gap();
        if (EndLines.Tell(context) is { Length: > 0 } end)
            lines.Comment(0, $"{context.Facts[^1].Says}: {end}");
        lines.Add(0, "frames:");
        return lines + frames.ToString();
    }

    private static string Canonical(string text)
    {
        var found = new DiagnosticBag();
        return Formatter.Format(new SourceText(File, text), found)
            ?? throw new InvalidOperationException($"the draft is no usable text: {found.Sorted[0].Message}");
    }
}
