using Locum.Protection;

namespace Locum.Inference.Checksums;

/// <summary>An end-to-end profile that puts the same bytes into a frame as the checksum beside it.</summary>
/// <param name="Profile">The profile.</param>
/// <param name="Offset">Bytes in front of the header.</param>
/// <param name="Ids">One data ID, or the list of 16; null for counter values that no frame showed.</param>
/// <param name="Counter">The profile's counter in the payload.</param>
public sealed record ProtectStatement(E2EProfile Profile, int Offset, IReadOnlyList<uint?> Ids, ChecksumPlace Counter);
