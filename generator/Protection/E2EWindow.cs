namespace Locum.Protection;

/// <summary>Limits of a receiver's state machine. A window is the newest judgements, one per expected frame.</summary>
/// <param name="Size">Judgements in the window.</param>
/// <param name="OkForInit">Good ones that lead from Init to Valid.</param>
/// <param name="ErrorsInInit">Wrong ones that Init stands.</param>
/// <param name="OkForValid">Good ones that keep Valid.</param>
/// <param name="ErrorsInValid">Wrong ones that Valid stands.</param>
/// <param name="OkForRecovery">Good ones that lead from Invalid back to Valid.</param>
/// <param name="ErrorsInRecovery">Wrong ones that this stands.</param>
public sealed record E2EWindow(int Size, int OkForInit, int ErrorsInInit, int OkForValid, int ErrorsInValid, int OkForRecovery, int ErrorsInRecovery)
{
    /// <summary>Limits as they are often set: common practice, no source. Every vehicle has its own.</summary>
    public static E2EWindow Usual { get; } = new(10, 1, 3, 1, 3, 5, 2);
}
