namespace Locum.Drafting;

/// <summary>The section of modes: the stages after the start, as far as the recording shows one.</summary>
internal static class ModeLines
{
    private const string Last = "running";

    /// <summary>Names the stages.</summary>
    public static void Settle(DraftContext context)
    {
        int ends = context.Findings.Phases.EndsUs.Count;
        context.Modes = ends is 0 ? [] : [.. Enumerable.Range(1, ends).Select(i => ends is 1 ? "start-up" : DraftWords.Text($"start-up-{i}")), Last];
    }

    /// <summary>Writes the section; nothing when there is one stage.</summary>
    public static void Write(DraftContext context, YamlLines lines)
    {
        var phases = context.Findings.Phases;
        if (phases.EndsUs.Count is 0)
            return;
        lines.Gap();
        lines.Add(0, "modes:");
        long since = 0;
        for (int i = 0; i < phases.EndsUs.Count; i++)
        {
            string time = DraftWords.Time(phases.EndsUs[i] - since);
            var fact = new Fact("", "stage", $"{context.Modes[i]} for {time}", phases.Evidence[i].Confidence, phases.Evidence[i], "start");
            lines.Add(1, $"{context.Modes[i]}: {{for: {time}, then: {context.Modes[i + 1]}}}", context.Tell(fact));
            since = phases.EndsUs[i];
        }
        lines.Add(1, $"{Last}: {{}}");
    }
}
