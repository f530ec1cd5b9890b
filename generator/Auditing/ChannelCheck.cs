using Locum.Model;

namespace Locum.Auditing;

/// <summary>The answers of a module's channels to testers and of its J1939 nodes.</summary>
internal sealed class ChannelCheck
{
    private readonly ModuleTrack _module;
    private readonly List<(Replay Replay, Text.Span Span)> _replays = [];
    private readonly List<string> _waiting = [];

    public ChannelCheck(PartView view, ModuleTrack module)
    {
        _module = module;
        foreach (var node in module.Module.Nodes)
            if (module.Frames[node.Frame] is { Bus: not null } row)
            {
                var replay = new NodeReplay(view, module, node, row);
                _replays.Add((replay, node.Span));
                foreach (var track in module.Frames.OfType<FrameTrack>().Where(t => node.Carries(t.Frame, row.Frame.Bus)))
                    track.Hold(replay.Held);
            }
        foreach (var channel in module.Module.Channels)
            if (module.Frames[channel.Frame] is { Bus: not null } answer)
            {
                if (module.Module.Nodes.Any(n => n.Carries(answer.Frame, module.Module.Frames[n.Frame].Bus)))
                    _waiting.Add(channel.Name);
                else
                    _replays.Add((new ChannelReplay(view, module, channel, answer), channel.Span));
            }
    }

    public void Tell(Sink sink)
    {
        foreach (var channel in _waiting)
            sink.Skip($"answers of {_module.Module.Name}.{channel}: they wait for the claim of their address");
        foreach (var (replay, span) in _replays)
            replay.Tell(sink, span);
    }
}
