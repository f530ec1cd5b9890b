using Locum.Inference;

namespace Locum.Drafting;

/// <summary>Payloads with the bits of described fields cleared, so that what a description says stands there once.</summary>
internal static class FrameBase
{
    /// <summary>The usual payload: constant bits as they are, others as in the first frame of the start.</summary>
    public static byte[] Of(FrameFindings frame, IReadOnlyCollection<FieldPlace> described) =>
        Cleared(frame.Payloads.Count > 0 ? frame.Payloads.Data(frame.FirstFrame).ToArray() : [], described);

    /// <summary>A payload without the described bits.</summary>
    public static byte[] Cleared(byte[] data, IReadOnlyCollection<FieldPlace> described)
    {
        byte[] cleared = [.. data];
        foreach (var place in described.Where(p => p.IsInside(cleared.Length)))
            place.Write(cleared, 0);
        return cleared;
    }
}
