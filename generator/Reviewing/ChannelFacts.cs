using Locum.Model;

namespace Locum.Reviewing;

/// <summary>A channel on which the module answers testers, as an item.</summary>
internal static class ChannelFacts
{
    public static Item Of(Channel channel, Scope scope) => new()
    {
        Kind = "channel",
        Name = scope.Named("channel", "", channel.Name),
        WasNamed = scope.WasNamed("channel", "", channel.Name),
        Identity = $"{scope.Module.Receives[channel.Request].Id} {scope.Module.Frames[channel.Frame].Id}",
        Facts =
        [
            new("answer", scope.Frame(channel.Frame)),
            new("request", scope.Received(channel.Request)),
            new("functional request", channel.Functional is { } functional ? scope.Received(functional) : "none"),
            new("longest frame", $"{channel.FrameLength} bytes"),
            new("padding", channel.Padding is { } padding ? $"0x{padding:X2}" : "none"),
            new("block size", $"{channel.BlockSize}"),
            new("separation", $"0x{channel.Separation:X2}"),
            new("answer after", Say.Time(channel.AnswerAfterUs)),
            new("sessions", Say.List(channel.Sessions.Select(s => $"0x{s:X2}"))),
            new("reset", Say.YesNo(channel.AcceptsReset)),
            new("security", channel.DeniesSecurity ? "denied" : "unknown"),
            new("fault memory", channel.HasMemory ? "empty" : "none"),
            .. channel.Identifiers.Select(i => new Fact($"identifier 0x{i.Number:X4}", i.AfterUs is 0 ? Say.Bytes(i.Bytes) : $"{Say.Bytes(i.Bytes)} after {Say.Time(i.AfterUs)}")),
        ],
    };
}
