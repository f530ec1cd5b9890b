using Locum.Wire;

namespace Locum.Auditing;

/// <summary>A frame that a module heard and may answer.</summary>
/// <param name="Order">Its number among all entries of the recording.</param>
/// <param name="Row">Index in the module's list of received frames.</param>
internal sealed record HeardRequest(int Order, long TimeUs, int Row, CanId Id, byte[] Data);
