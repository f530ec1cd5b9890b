using Locum.Wire;

namespace Locum.Simulation;

/// <summary>The frames of an answer (rules A6 and A10).</summary>
internal static class AnswerFrames
{
    private const int Classic = 8;

    /// <summary>Single frame, or first and consecutive ones, each as short as what it carries.</summary>
    /// <param name="frameLength">Bytes of the longest frame.</param>
    public static IEnumerable<byte[]> Of(byte[] answer, int frameLength)
    {
        if (answer.Length < Classic)
            return [[(byte)answer.Length, .. answer]];
        if (answer.Length <= frameLength - 2 && frameLength > Classic)
            return [[0, (byte)answer.Length, .. answer]];
        byte[] first = [(byte)(0x10 | answer.Length >> 8), (byte)answer.Length, .. answer[..(frameLength - 2)]];
        return answer.Skip(frameLength - 2).Chunk(frameLength - 1).Select((part, i) => (byte[])[(byte)(0x20 | (i + 1) % 16), .. part]).Prepend(first);
    }

    /// <summary>The frame as it is sent.</summary>
    /// <param name="padding">Fills frames up to 8 bytes; null: they stay short.</param>
    /// <param name="further">Fills longer frames up to a length that CAN FD has.</param>
    public static byte[] Fill(byte[] frame, byte? padding, byte further)
    {
        var length = frame.Length > Classic ? FdLengths.AtLeast(frame.Length) : padding is null ? frame.Length : Classic;
        return [.. frame, .. Enumerable.Repeat(padding ?? further, length - frame.Length)];
    }
}
