using Locum.Binding;
using Locum.Model;
using Locum.Planning;
using Locum.Wire;

namespace Locum.Rendering.Views;

/// <summary>A row of the board's table of channels.</summary>
/// <param name="C">Prefix of the channel's C names.</param>
/// <param name="Event">Row of the answer frame in the table of frames that events send.</param>
/// <param name="Functional">Row among the received frames, as a C constant.</param>
public sealed record ChannelView(
    string Comment,
    string C,
    IReadOnlyList<IdentifierView> Identifiers,
    string Features,
    string Sessions,
    int Most,
    long AnswerAfterUs,
    int Row,
    int Event,
    string Request,
    string Functional,
    int BlockSize,
    string Separation,
    string Padding,
    string Padded,
    string Fd,
    int FrameLength);

/// <summary>A data identifier.</summary>
/// <param name="C">Name of the array of its bytes.</param>
public sealed record IdentifierView(string C, string Number, long AfterUs, IReadOnlyList<string> Bytes);

internal static class ChannelViews
{
    public static IReadOnlyList<ChannelView> Of(BoardPlan plan)
    {
        var events = plan.Frames.Where(f => f.Frame.Events is not null).ToList();
        return [.. plan.Modules.SelectMany(m => m.Module.Channels.Select(c => One(c, m, plan, events)))];
    }

    /// <summary>Bytes of the longest answer of any channel.</summary>
    public static int AnswerBytes(BoardPlan plan) => Channels(plan).Select(c => c.LongestAnswer).DefaultIfEmpty(0).Max();

    /// <summary>True if answers have times of their own, or one takes longer than testers wait unasked.</summary>
    public static bool IsSlow(BoardPlan plan) => Channels(plan).Any(c => c.AnswerAfterUs > Channel.P2Us || c.Identifiers.Any(i => i.AfterUs > 0));

    public static bool HasFd(BoardPlan plan) => plan.Frames.Any(f => f.Frame is { IsAnswer: true, Format: not FrameFormat.Classic });

    private static IEnumerable<Channel> Channels(BoardPlan plan) => plan.Modules.SelectMany(m => m.Module.Channels);

    private static ChannelView One(Channel channel, PlannedModule owner, BoardPlan plan, List<PlannedFrame> events)
    {
        var module = owner.Module;
        var answer = plan.Frames.Single(f => f.Owner == owner && f.IndexInModule == channel.Frame);
        var c = $"{Names.ToC(module.Name)}_{Names.ToC(channel.Name)}";
        return new ChannelView(
            CText.Comment($"{module.Name}, {channel.Name}: {module.Receives[channel.Request].Id} answered by {answer.Frame.Id}"),
            c,
            [.. channel.Identifiers.Select(i => new IdentifierView($"{c}_{i.Number:x4}", $"0x{i.Number:X4}u", i.AfterUs, [.. i.Bytes.Select(b => $"0x{b:X2}u")]))],
            Features(channel),
            $"0x{channel.Sessions.Aggregate(0, (set, s) => set | 1 << s):X2}u",
            channel.LongestAnswer,
            channel.AnswerAfterUs,
            answer.Row,
            events.IndexOf(answer),
            ReceiveViews.Macro(module, channel.Request),
            channel.Functional is { } functional ? ReceiveViews.Macro(module, functional) : "LOCUM_NONE",
            channel.BlockSize,
            $"0x{channel.Separation:X2}u",
            $"0x{channel.Padding ?? Channel.DefaultPadding:X2}u",
            channel.Padding is null ? "false" : "true",
            answer.Frame.Format is FrameFormat.Classic ? "false" : "true",
            channel.FrameLength);
    }

    private static string Features(Channel channel)
    {
        var words = new List<string>();
        if (channel.AcceptsReset)
            words.Add("LOCUM_UDS_RESET");
        if (channel.DeniesSecurity)
            words.Add("LOCUM_UDS_DENIED");
        if (channel.HasMemory)
            words.Add("LOCUM_UDS_MEMORY");
        return words.Count is 0 ? "0u" : string.Join(" | ", words);
    }
}
