using Locum.Model;

namespace Locum.Simulation;

/// <summary>A frame that a module listens to: last payload, and whether it is lost (rules 19 to 21).</summary>
internal sealed class ReceivedState(ReceivedFrame received)
{
    private byte[] _payload = [];

    public ReceivedFrame Received { get; } = received;

    public bool There { get; private set; }

    /// <summary>When the frame will be lost; null when it is, or never will be.</summary>
    public long? LostUs { get; private set; }

    public void Receive(byte[] payload, long now)
    {
        _payload = payload;
        There = true;
        LostUs = now + Received.TimeoutUs;
    }

    public void Lose(long at)
    {
        if (LostUs > at || LostUs is null)
            return;
        There = false;
        LostUs = null;
    }

    /// <summary>A field's raw value; null while the frame is lost.</summary>
    public long? Value(int field) => There ? Received.Fields[field].Read(_payload) : null;
}
