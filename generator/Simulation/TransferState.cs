using Locum.Model;
using Locum.Wire;

namespace Locum.Simulation;

/// <summary>A long answer on its way, to everybody or to one node (rules J7 to J9).</summary>
internal sealed class TransferState
{
    private const int PacketBytes = 7;
    private const int Priority = 7;
    private const long AnswerUs = 1_250_000;
    private const long HoldUs = 1_050_000;
    private const byte Open = 0x10;
    private const byte Go = 0x11;
    private const byte Received = 0x13;
    private const byte OpenToAll = 0x20;
    private const byte End = 0xFF;
    private const byte TooLate = 3;
    private const byte GoWhileSending = 4;

    private readonly Node _node;
    private readonly byte[][] _packets;
    private Step _step = Step.Opens;
    private int _next;
    private int _last;
    private byte _reason;
    private bool _flies;

    public TransferState(Node node, GroupAnswer answer, byte to)
    {
        (_node, Answer, To) = (node, answer, to);
        _packets = [.. answer.Bytes.Chunk(PacketBytes).Select((bytes, i) => (byte[])[(byte)(i + 1), .. bytes, .. Enumerable.Repeat((byte)0xFF, PacketBytes - bytes.Length)])];
    }

    private enum Step
    {
        Opens,
        Paces,
        Sends,
        Waits,
        Ends,
    }

    public GroupAnswer Answer { get; }

    /// <summary>The node that asked, or 255.</summary>
    public byte To { get; }

    /// <summary>End of a pause or of a wait; null while neither is.</summary>
    public long? TimerUs { get; private set; }

    /// <summary>The next frame, if one is due.</summary>
    public (CanId Id, byte[] Data)? Wanted => _step switch
    {
        Step.Opens => Connection(To is Node.Everybody ? OpenToAll : Open, (byte)Answer.Bytes.Length, (byte)(Answer.Bytes.Length >> 8), (byte)_packets.Length, 0xFF),
        Step.Sends => (ParameterGroup.To(ParameterGroup.Packets, To, _node.Address, Priority), _packets[_next]),
        Step.Ends => Connection(End, _reason, 0xFF, 0xFF, 0xFF),
        _ => null,
    };

    public void Accepted() => _flies = true;

    /// <summary>What was accepted last has left; true if the transfer is over.</summary>
    public bool Left(long now)
    {
        if (!_flies)
            return false;
        _flies = false;
        switch (_step)
        {
            case Step.Ends:
                return true;
            case Step.Sends when To is Node.Everybody && _next == _packets.Length - 1:
                return true;
            case Step.Sends when To is not Node.Everybody && _next < _last:
                _next++;
                break;
            case Step.Opens or Step.Sends when To is Node.Everybody:
                _next += _step is Step.Sends ? 1 : 0;
                GoOn(Step.Paces, now + _node.SpacingUs);
                break;
            default:
                GoOn(Step.Waits, now + AnswerUs);
                break;
        }
        return false;
    }

    /// <summary>The timer ends.</summary>
    public void Tick()
    {
        if (_step is Step.Paces)
            GoOn(Step.Sends, null);
        else
            GiveUp(TooLate);
    }

    /// <summary>A frame of connection management came; true if the transfer is over.</summary>
    public bool Take(byte source, byte[] data, long now)
    {
        if (To is Node.Everybody || source != To || NodeState.Number(data, 5) != Answer.Group)
            return false;
        switch (data[0])
        {
            case Received or End:
                return true;
            case Go when _step is Step.Sends:
                GiveUp(GoWhileSending);
                break;
            case Go when _step is Step.Waits && data[1] is 0:
                TimerUs = now + HoldUs;
                break;
            case Go when _step is Step.Waits && data[2] > 0 && data[2] <= _packets.Length:
                _next = data[2] - 1;
                _last = Math.Min(_next + data[1], _packets.Length) - 1;
                GoOn(Step.Sends, null);
                break;
            default:
                break;
        }
        return false;
    }

    private void GiveUp(byte reason)
    {
        _reason = reason;
        _flies = false;
        GoOn(Step.Ends, null);
    }

    private void GoOn(Step step, long? timerUs) => (_step, TimerUs) = (step, timerUs);

    private (CanId Id, byte[] Data) Connection(byte control, byte first, byte second, byte third, byte fourth) =>
        (ParameterGroup.To(ParameterGroup.Connection, To, _node.Address, Priority), [control, first, second, third, fourth, .. NodeState.Number(Answer.Group)]);
}
