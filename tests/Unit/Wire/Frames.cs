using CsCheck;
using Locum.Wire;

namespace Locum.Tests.Unit.Wire;

/// <summary>Generators of frames. Identifiers lean towards long runs of equal bits and shared bases.</summary>
internal static class Frames
{
    private static readonly Gen<uint> s_base = Gen.OneOf(Gen.UInt[0, CanId.MaxStandard], Gen.OneOf(0u, 0x123u, 0x7F0u, 0x7FFu));
    private static readonly Gen<uint> s_extension = Gen.OneOf(Gen.UInt[0, 0x3FFFF], Gen.OneOf(0u, 1u, 0x3FFFFu));
    private static readonly Gen<byte> s_byte = Gen.OneOf(Gen.Byte, Gen.OneOf<byte>(0x00, 0xFF, 0x0F, 0xF0, 0x3C));

    public static Gen<CanId> Id { get; } = Gen.OneOf(
        s_base.Select(value => new CanId(value, false)),
        Gen.Select(s_base, s_extension, (high, low) => new CanId((high << 18) | low, true)));

    public static Gen<byte[]> Data { get; } = s_byte.Array[0, 8];

    public static Gen<byte[]> FdData { get; } = Gen.OneOf([.. FdLengths.All.Select(n => s_byte.Array[n])]);

    public static Gen<(FrameFormat Format, byte[] Data)> AnyFormat { get; } = Gen.OneOf(
        Data.Select(data => (FrameFormat.Classic, data)),
        FdData.Select(data => (FrameFormat.Fd, data)),
        FdData.Select(data => (FrameFormat.FdSwitched, data)));
}
