namespace Locum.Auditing;

/// <summary>What a module may know of a received frame during a while.</summary>
/// <param name="MayBeLost">It may count as lost at some time of it.</param>
/// <param name="MayBeUnknown">What came before the capture may still count.</param>
/// <param name="First">Index of the first reception whose payload may count.</param>
/// <param name="End">Index behind the last one.</param>
internal readonly record struct Heard(bool MayBeLost, bool MayBeUnknown, int First, int End)
{
    public bool MayBeThere => MayBeUnknown || End > First;
}
