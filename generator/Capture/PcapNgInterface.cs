namespace Locum.Capture;

/// <summary>What a pcapng file says of an interface.</summary>
/// <param name="LinkType">Kind of its packets.</param>
/// <param name="Bus">Number of its bus; -1 when its packets cannot be CAN frames.</param>
/// <param name="Clock">Unit of its times.</param>
internal readonly record struct PcapNgInterface(int LinkType, int Bus, PcapNgClock Clock);
