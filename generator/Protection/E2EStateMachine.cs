namespace Locum.Protection;

/// <summary>
/// The state machine over a receiver's single judgements (AUTOSAR PRS_E2EProtocol, from memory): counts good and wrong
/// ones in a window and says whether the data is used.
/// </summary>
/// <param name="limits">The window and its limits, which differ from receiver to receiver.</param>
public sealed class E2EStateMachine(E2EWindow limits)
{
    private readonly Queue<Judgement> _window = new();

    private enum Judgement
    {
        Ok,
        Error,
        Neither,
    }

    public E2EState State { get; private set; } = E2EState.NoData;

    /// <summary>Takes the judgement on one expected frame.</summary>
    /// <param name="status">Null when no frame came.</param>
    public E2EState Take(E2EStatus? status)
    {
        var judgement = status switch
        {
            E2EStatus.Ok or E2EStatus.OkSomeLost => Judgement.Ok,
            null or E2EStatus.Repeated or E2EStatus.WrongSequence => Judgement.Neither,
            _ => Judgement.Error,
        };
        if (State is E2EState.NoData)
        {
            if (status is not null && judgement is not Judgement.Error)
                State = E2EState.Init;
            return State;
        }
        _window.Enqueue(judgement);
        while (_window.Count > limits.Size)
            _window.Dequeue();
        var good = _window.Count(j => j is Judgement.Ok);
        var wrong = _window.Count(j => j is Judgement.Error);
        var next = State switch
        {
            E2EState.Init when wrong > limits.ErrorsInInit => E2EState.Invalid,
            E2EState.Init when good >= limits.OkForInit => E2EState.Valid,
            E2EState.Valid when wrong > limits.ErrorsInValid || good < limits.OkForValid => E2EState.Invalid,
            E2EState.Invalid when wrong <= limits.ErrorsInRecovery && good >= limits.OkForRecovery => E2EState.Valid,
            var same => same,
        };
        State = next;
        return State;
    }
}
