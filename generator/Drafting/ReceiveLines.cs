namespace Locum.Drafting;

/// <summary>The section of received frames.</summary>
internal static class ReceiveLines
{
    /// <summary>Writes the section; nothing when the module listens to nobody.</summary>
    public static void Write(DraftContext context, YamlLines lines)
    {
        if (context.Receives.Entries.Count is 0)
            return;
        lines.Gap();
        lines.Add(0, "receives:");
        foreach (var entry in context.Receives.Entries)
        {
            lines.Add(1, $"{entry.Name}:");
            if (context.BusNames.Count > 1)
                lines.Add(2, $"bus: {context.BusNames[entry.Series.Bus]}");
            lines.Add(2, $"id: {entry.Series.Id}");
            if (entry.Series.Id is { Extended: true, Value: <= Wire.CanId.MaxStandard })
                lines.Add(2, "id kind: 29 bit");
            if (entry.TimeoutUs is { } timeout)
                lines.Add(2, $"timeout: {DraftWords.Time(timeout)}");
            if (entry.Fields.Count > 0)
                lines.Add(2, "fields:");
            foreach (var (place, name) in entry.Fields)
                lines.Add(3, $"{name}: {{{DraftWords.Place(place)}}}");
        }
    }
}
