using Locum.Capture;

namespace Locum.Tests.Unit.Capture;

/// <summary>An entry of a capture with its payload, for comparisons.</summary>
internal sealed record Entry(long TimeNs, string Bus, uint Id, FrameTraits Traits, int Length, string Data)
{
    public static Entry Of(long timeNs, uint id, string data, FrameTraits traits = FrameTraits.None, string bus = "bus") =>
        new(timeNs, bus, id, traits, data.Length / 2, data);
}
