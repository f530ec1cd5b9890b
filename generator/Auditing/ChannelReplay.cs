using Locum.Model;
using Locum.Simulation;

namespace Locum.Auditing;

/// <summary>A channel for testers in one part of a capture.</summary>
internal sealed class ChannelReplay : Replay
{
    // Whatever a tester waits for in the middle of an exchange comes within that, or never (rule A12).
    private const long TimeoutUs = 1_000_000;

    private readonly ChannelState _state;
    private readonly Channel _channel;
    private readonly long _quietUs;
    private long _lastUs = long.MinValue / 2;

    public ChannelReplay(PartView view, ModuleTrack module, Channel channel, FrameTrack answer)
        : base(view, module, answer)
    {
        _channel = channel;
        var after = channel.Identifiers.Select(i => i.AfterUs).Append(channel.AnswerAfterUs).Max();
        _quietUs = TimeoutUs + after + (after > Channel.P2Us ? Channel.P2StarUs : 0);
        _state = new ChannelState(channel, answer.Frame.Format is not Wire.FrameFormat.Classic, at => DueUs = at);
        Run(
            [.. module.Hearings[channel.Request].Requests(channel.Request), .. channel.Functional is { } all ? module.Hearings[all].Requests(all) : []],
            [.. answer.Seen.Select(s => new SentAnswer(answer.Order(s), s.StartUs, answer.EndUs(s), answer.Frame.Id, answer.Data(s).ToArray()))]);
    }

    protected override long LateUs => (long)(Tolerance.PeriodShare * _channel.AnswerAfterUs);

    protected override (Wire.CanId Id, byte[] Data)? Wanted() => DueUs is null ? null : (Row.Frame.Id, _state.Compose());

    // A capture may begin in the middle of an exchange; a request behind a silence begins one. When the tester does not wait
    // for the answer, whether that is still sent depends on microseconds that no capture shows.
    protected override void Take(HeardRequest heard)
    {
        var begins = heard.Data.Length > 0 && heard.Data[0] >> 4 is 0 or 1;
        var quiet = heard.TimeUs - _lastUs > _quietUs;
        _lastUs = heard.TimeUs;
        var rude = IsKnown && begins && !_state.IsIdle;
        if (rude)
            Unjudged++;
        if (rude || !Module.Stayed(Row.Modes, heard.TimeUs, heard.TimeUs))
        {
            Lose(heard.TimeUs);
            return;
        }
        IsKnown |= begins && quiet;
        if (!IsKnown)
            return;
        Requests++;
        _state.Take(heard.Data, heard.Row != _channel.Request, heard.TimeUs);
    }

    protected override bool Learn(SentAnswer seen)
    {
        _lastUs = seen.EndUs;
        return false;
    }

    protected override void Accepted() => _state.Accepted();

    protected override void Left(long at)
    {
        _lastUs = at;
        if (_state.Leaving)
            _state.Left(at);
    }

    protected override void Reset() => _state.Reset();

    protected override void RunTimers(long now)
    {
        while (new[] { _state.TimerUs, _state.SessionEndsUs }.Min() is { } timer && timer <= now)
            _state.Tick(timer);
    }
}
