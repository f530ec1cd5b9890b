using Locum.Simulation;
using Locum.Wire;

namespace Locum.Tests.Unit.Traces;

/// <summary>A short, invented exchange on two buses.</summary>
internal static class SampleFrames
{
    public static IReadOnlyList<string> Buses { get; } = ["body", "drive", "silent"];

    public static IReadOnlyList<SentFrame> All { get; } =
    [
        new("body", "cab-heat.HeaterStatus", new CanId(0x2D1, false), [0x00, 0x00, 0x3C, 0x7F, 0x00, 0x00, 0xF0, 0x4B], 7000, 7000, 7234),
        new("drive", "", new CanId(0x18FEF100, true), [0xFF], 7100, 7250, 7401),
        new("body", "cab-heat.Ping", new CanId(0x7, false), [], 1_000_000, 1_000_000, 1_000_096),
        new("drive", "slip.Wheel", new CanId(0x10, true), [0xDE, 0xAD], 4_999_999_000, 4_999_999_500, 5_000_000_000),
    ];
}
