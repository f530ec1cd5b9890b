using Locum.Model;
using Locum.Wire;

namespace Locum.Simulation;

/// <summary>A node of SAE J1939 while it runs (rules J1 to J9).</summary>
/// <param name="release">An event of a frame of the module, by its index, at a time; false if the frame is not sending.</param>
/// <param name="ask">Withdraws what the node wanted to send, then asks for a release at a time; null asks for none.</param>
internal sealed class NodeState(Node node, Func<int, long, bool> release, Action<long?> ask)
{
    private const byte FirstWaiting = 128;
    private const byte LastWaiting = 247;
    private const long WaitUs = 250_000;
    private const long DelayUs = 600;
    private const byte NotKnown = 1;
    private const byte Busy = 3;

    private readonly byte[] _name = node.NameBytes();
    private readonly List<CanId> _inMailboxes = [];
    private readonly SortedDictionary<int, byte> _short = [];
    private uint _random = Math.Max(1, (uint)node.NameValue ^ (uint)(node.NameValue >> 32));
    private Phase _phase;
    private long? _timerUs;
    private bool _claim;
    private (byte Code, byte Asker, int Group)? _refusal;
    private TransferState? _transfer;
    private bool _asked;
    private CanId? _flies;
    private Action<long>? _whenLeft;

    private enum Phase
    {
        Off,
        Claiming,
        Owning,
        Lost,
    }

    public Node Node { get; } = node;

    /// <summary>Frames with the node's address are held.</summary>
    public bool Holds => _phase is not Phase.Owning;

    public bool IsOff => _phase is Phase.Off;

    /// <summary>When a timer ends; null while none runs.</summary>
    public long? TimerUs => _timerUs ?? _transfer?.TimerUs;

    /// <summary>The frame whose leaving the node waits for; null: none.</summary>
    public CanId? Flies => _flies;

    public bool IsInMailbox(CanId id) => _inMailboxes.Contains(id);

    public void Reset()
    {
        Forget();
        _phase = Phase.Off;
        _asked = false;
        _flies = null;
        _whenLeft = null;
    }

    public void Start(long now)
    {
        _phase = Phase.Claiming;
        _claim = true;
        Ask(now);
    }

    /// <summary>A frame of one of the node's received rows, by the row's index in the module.</summary>
    public void Take(int received, CanId id, byte[] data, long now)
    {
        if (_phase is Phase.Off || data.Length > Node.LongestShort)
            return;
        var source = (byte)id.Value;
        if (received == Node.Claim)
            TakeClaim(data, now);
        else if (received == Node.Request || received == Node.RequestToAll)
            TakeRequest(Number(data, 0), source, received == Node.RequestToAll, now);
        else if (received == Node.Connection && _transfer?.Take(source, data, now) is true)
            _transfer = null;
        Ask(now);
    }

    /// <summary>The frame that goes first of those that are wanted; changes nothing.</summary>
    public (CanId Id, byte[] Data) Compose() => Wanted() ?? throw new InvalidOperationException("nothing is wanted");

    public void Accepted()
    {
        var id = Compose().Id;
        _inMailboxes.Add(id);
        _flies = id;
        _whenLeft = null;
        _asked = false;
        if (_claim)
        {
            _claim = false;
            if (_phase is Phase.Claiming)
                _whenLeft = Claimed;
        }
        else if (_refusal is not null)
        {
            _refusal = null;
        }
        else if (_short.Count > 0)
        {
            _short.Remove(_short.Keys.First());
        }
        else if (_transfer is { } transfer)
        {
            transfer.Accepted();
            _whenLeft = now =>
            {
                if (transfer.Left(now) && _transfer == transfer)
                    _transfer = null;
            };
        }
    }

    /// <summary>A controller is done with a frame of the node.</summary>
    public void Done(CanId id) => _inMailboxes.Remove(id);

    public void Left(long now)
    {
        _flies = null;
        _whenLeft?.Invoke(now);
        _whenLeft = null;
        Ask(now);
    }

    /// <summary>Lets a timer run out that ends now.</summary>
    public void Tick(long at)
    {
        if (TimerUs > at || TimerUs is null)
            return;
        if (_timerUs is null)
        {
            _transfer!.Tick();
        }
        else
        {
            _timerUs = null;
            if (_phase is Phase.Claiming)
                _phase = Phase.Owning;
            else
                _claim = true;
        }
        Ask(at);
    }

    private void Claimed(long now)
    {
        if (_phase is not Phase.Claiming || _timerUs is not null)
            return;
        if (Node.Address is >= FirstWaiting and <= LastWaiting)
            _timerUs = now + WaitUs;
        else
            _phase = Phase.Owning;
    }

    private void TakeClaim(byte[] data, long now)
    {
        if (_phase is Phase.Lost)
            return;
        if (Node.NameValue < data.Reverse().Aggregate(0UL, (name, b) => name << 8 | b))
        {
            _claim = true;
            return;
        }
        Forget();
        _whenLeft = null;
        _phase = Phase.Lost;
        SayLater(now);
    }

    private void TakeRequest(int group, byte asker, bool all, long now)
    {
        if (group is ParameterGroup.AddressClaimed)
        {
            if (_phase is not Phase.Lost)
                _claim = true;
            else if (all && !_claim && _timerUs is null)
                SayLater(now);
            return;
        }
        if (_phase is not Phase.Owning || asker is Node.Nobody or Node.Everybody)
            return;
        var index = Node.Answers.ToList().FindIndex(a => a.Group == group);
        var answer = index < 0 ? null : Node.Answers[index];
        var code = answer switch
        {
            null => NotKnown,
            { Frame: { } frame } => release(frame, now) ? 0 : NotKnown,
            { IsLong: true } => Transfer(answer, all ? Node.Everybody : asker),
            _ => 0,
        };
        if (answer is { Frame: null, IsLong: false })
            _short[index] = all ? Node.Everybody : asker;
        if (code is not 0 && !all)
            _refusal = ((byte)code, asker, group);
    }

    private int Transfer(GroupAnswer answer, byte to)
    {
        if (_transfer is { } running)
            return running.Answer == answer && (running.To is Node.Everybody || running.To == to) ? 0 : Busy;
        _transfer = new TransferState(Node, answer, to);
        return 0;
    }

    private void SayLater(long now)
    {
        _random ^= _random << 13;
        _random ^= _random >> 17;
        _random ^= _random << 5;
        _timerUs = now + (DelayUs * (_random % 256));
    }

    private void Forget()
    {
        _claim = false;
        _refusal = null;
        _short.Clear();
        _transfer = null;
        _timerUs = null;
    }

    private (CanId Id, byte[] Data)? Wanted()
    {
        if (_claim)
            return (ParameterGroup.To(ParameterGroup.AddressClaimed, Node.Everybody, _phase is Phase.Lost ? Node.Nobody : Node.Address), _name);
        if (_refusal is var (code, asker, group))
            return (ParameterGroup.To(ParameterGroup.Acknowledgement, Node.Everybody, Node.Address), [code, 0xFF, 0xFF, 0xFF, asker, .. Number(group)]);
        if (_short.Count > 0)
        {
            var (index, to) = _short.First();
            var answer = Node.Answers[index];
            return (ParameterGroup.HasDestination(answer.Group) ? ParameterGroup.To(answer.Group, to, Node.Address) : ParameterGroup.Broadcast(answer.Group, Node.Address), answer.Bytes);
        }
        return _transfer?.Wanted;
    }

    // One frame at a time is asked for.
    private void Ask(long at)
    {
        var wanted = Wanted() is not null;
        if (wanted == _asked || (wanted && _flies is not null))
            return;
        _asked = wanted;
        ask(wanted ? at : null);
    }

    internal static byte[] Number(int group) => [(byte)group, (byte)(group >> 8), (byte)(group >> 16)];

    internal static int Number(byte[] data, int at) => data[at] | data[at + 1] << 8 | data[at + 2] << 16;
}
