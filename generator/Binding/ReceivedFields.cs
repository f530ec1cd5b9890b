namespace Locum.Binding;

/// <summary>Dotted names of received fields: FRAME.FIELD.</summary>
internal static class ReceivedFields
{
    public static IEnumerable<string> Names(Bound bound) => bound.Receives.SelectMany(r => r.Fields.Select(f => $"{r.Name}.{f.Name}"));

    /// <summary>Indexes of the frame and of its field, or null.</summary>
    public static (int Frame, int Field)? Find(string name, Bound bound)
    {
        for (var frame = 0; frame < bound.Receives.Count; frame++)
        {
            var received = bound.Receives[frame];
            for (var field = 0; field < received.Fields.Count; field++)
                if (name.Length == received.Name.Length + 1 + received.Fields[field].Name.Length && name == $"{received.Name}.{received.Fields[field].Name}")
                    return (frame, field);
        }
        return null;
    }
}
