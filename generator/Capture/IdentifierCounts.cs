using System.Runtime.InteropServices;

namespace Locum.Capture;

/// <summary>Counts identifiers while a capture is read.</summary>
public sealed class IdentifierCounts : IBusSink
{
    // A column of noise taken for identifiers shall not fill the memory.
    private const int Most = 1_000_000;

    private readonly Dictionary<ulong, IdentifierCount> _counts = [];

    /// <summary>By bus, then in arbitration order.</summary>
    public IReadOnlyList<IdentifierCount> All => [.. _counts.Values.OrderBy(c => c.Bus).ThenBy(c => c.Id.ArbitrationKey)];

    public void Bus(int number, string name)
    {
    }

    public void Take(in CaptureFrame frame, ReadOnlySpan<byte> data)
    {
        if ((frame.Traits & FrameTraits.Error) is not 0)
            return;
        ulong key = ((ulong)(uint)frame.Bus << 32) | frame.Id | ((frame.Traits & FrameTraits.Extended) is not 0 ? 0x8000_0000u : 0);
        if (_counts.Count >= Most && !_counts.ContainsKey(key))
            return;
        ref var count = ref CollectionsMarshal.GetValueRefOrAddDefault(_counts, key, out _);
        count ??= new IdentifierCount(frame.Bus, frame.CanId, 0, 0, byte.MaxValue, 0, frame.TimeNs, frame.TimeNs);
        bool remote = (frame.Traits & FrameTraits.Remote) is not 0;
        count = count with
        {
            Frames = count.Frames + (remote ? 0 : 1),
            Remotes = count.Remotes + (remote ? 1 : 0),
            Shortest = Math.Min(count.Shortest, frame.Length),
            Longest = Math.Max(count.Longest, frame.Length),
            LastNs = frame.TimeNs,
        };
    }
}
