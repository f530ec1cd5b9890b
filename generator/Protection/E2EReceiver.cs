using System.Buffers.Binary;
using Locum.Wire;

namespace Locum.Protection;

/// <summary>
/// The receiving side of a profile: takes payloads in the order of their arrival and judges each. Reads bytes by
/// itself and knows nothing of how descriptions are bound, so that one can be held against the other.
/// </summary>
/// <param name="profile">The profile.</param>
/// <param name="ids">One data ID, or the profile's list of 16.</param>
/// <param name="offset">Bytes in front of the profile's header.</param>
/// <param name="mostLost">How many frames in a row may be missing.</param>
public sealed class E2EReceiver(E2EProfile profile, IReadOnlyList<uint> ids, int offset = 0, uint mostLost = 0)
{
    private readonly CrcParameters _crc = CrcCatalogue.Find(profile.Crc)!;
    private uint? _last;

    /// <summary>Judges the next payload. A wrong one leaves the expected counter as it is.</summary>
    public E2EStatus Check(ReadOnlySpan<byte> data)
    {
        if (data.Length < offset + profile.Header || data.Length > profile.Most)
            return E2EStatus.WrongLength;
        var header = data[offset..];
        if (Length(header) is { } length && length != data.Length)
            return E2EStatus.WrongLength;
        var counter = Counter(header);
        if (counter > profile.LastCounter)
            return E2EStatus.WrongCounter;
        if (SentId(header) is { } sent && sent != (profile.Kind is E2EKind.Nibble ? ids[0] >> 8 : ids[0]))
            return E2EStatus.WrongId;
        if (SentCrc(header) != Computed(data, counter))
            return E2EStatus.WrongCrc;
        var status = Sequence(counter);
        _last = counter;
        return status;
    }

    private E2EStatus Sequence(uint counter)
    {
        if (_last is not { } last)
            return E2EStatus.Ok;
        var steps = ((ulong)counter + profile.LastCounter + 1 - last) % ((ulong)profile.LastCounter + 1);
        return steps switch
        {
            0 => E2EStatus.Repeated,
            1 => E2EStatus.Ok,
            _ => steps <= (ulong)mostLost + 1 ? E2EStatus.OkSomeLost : E2EStatus.WrongSequence,
        };
    }

    private uint? Length(ReadOnlySpan<byte> header) => profile.Kind switch
    {
        E2EKind.Profile4 => BinaryPrimitives.ReadUInt16BigEndian(header),
        E2EKind.Profile6 => BinaryPrimitives.ReadUInt16BigEndian(header[2..]),
        E2EKind.Profile7 => BinaryPrimitives.ReadUInt32BigEndian(header[8..]),
        _ => null,
    };

    private uint Counter(ReadOnlySpan<byte> header) => profile.Kind switch
    {
        E2EKind.Profile4 => BinaryPrimitives.ReadUInt16BigEndian(header[2..]),
        E2EKind.Profile5 => header[2],
        E2EKind.Profile6 => header[4],
        E2EKind.Profile7 => BinaryPrimitives.ReadUInt32BigEndian(header[12..]),
        _ => (uint)(header[1] & 0x0F),
    };

    private uint? SentId(ReadOnlySpan<byte> header) => profile.Kind switch
    {
        E2EKind.Nibble => (uint)(header[1] >> 4),
        E2EKind.Profile4 => BinaryPrimitives.ReadUInt32BigEndian(header[4..]),
        E2EKind.Profile7 => BinaryPrimitives.ReadUInt32BigEndian(header[16..]),
        _ => null,
    };

    private ulong SentCrc(ReadOnlySpan<byte> header) => profile.Kind switch
    {
        E2EKind.Profile4 => BinaryPrimitives.ReadUInt32BigEndian(header[8..]),
        E2EKind.Profile5 => BinaryPrimitives.ReadUInt16LittleEndian(header),
        E2EKind.Profile6 => BinaryPrimitives.ReadUInt16BigEndian(header),
        E2EKind.Profile7 => BinaryPrimitives.ReadUInt64BigEndian(header),
        _ => header[0],
    };

    private ulong Computed(ReadOnlySpan<byte> data, uint counter)
    {
        var place = offset + (profile.Kind is E2EKind.Profile4 ? 8 : 0);
        var (low, high) = ((byte)ids[0], (byte)(ids[0] >> 8));
        byte[] before = profile.Kind switch
        {
            E2EKind.BothBytes => [low, high],
            E2EKind.Alternating => [counter % 2 is 0 ? low : high],
            E2EKind.Nibble => [low, 0],
            E2EKind.LowByte => [low],
            _ => [],
        };
        byte[] behind = profile.Kind switch
        {
            E2EKind.List => [(byte)ids[(int)counter]],
            E2EKind.Profile5 => [low, high],
            E2EKind.Profile6 => [high, low],
            _ => [],
        };
        byte[] input = [.. before, .. data[..place], .. data[(place + (_crc.Width / 8))..], .. behind];
        return Crc.Compute(_crc, input);
    }
}

/// <summary>What a receiver thinks of a protected payload.</summary>
public enum E2EStatus
{
    Ok,

    /// <summary>Valid, but tolerably many are missing before it.</summary>
    OkSomeLost,

    /// <summary>The counter has not moved.</summary>
    Repeated,

    /// <summary>The counter has moved too far.</summary>
    WrongSequence,
    WrongLength,
    WrongCounter,
    WrongId,
    WrongCrc,
}
