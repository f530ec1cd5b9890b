using Locum.Capture;

namespace Locum.Inference.Relations;

/// <summary>A field that others may follow.</summary>
/// <param name="Series">The frames that carry it.</param>
/// <param name="Place">Where.</param>
public sealed record SourceField(FrameSeries Series, FieldPlace Place)
{
    /// <summary>The field's value in a frame; null when that frame is too short.</summary>
    public ulong? Read(int index)
    {
        var data = Series.Data(index);
        return Place.IsInside(data.Length) ? Place.Read(data) : null;
    }
}
