using System.Numerics;
using System.Runtime.CompilerServices;

namespace Locum.Capture;

/// <summary>Finds buses by short names without comparing bytes one by one: a name and the blank behind it fill at most 8 bytes.</summary>
internal sealed class BusCache(FrameIntake intake)
{
    private const int Size = 8;

    private readonly ulong[] _names = new ulong[Size];
    private readonly int[] _numbers = new int[Size];
    private ulong _lastName;
    private int _lastNumber;
    private ulong _otherName;
    private int _otherNumber;
    private int _next;

    /// <summary>Bytes of the name that starts here and ends before a blank; 0 when it has more than 7, or none.</summary>
    /// <param name="text">The first 8 bytes, the first one lowest.</param>
    /// <param name="number">The bus.</param>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public int Find(ulong text, out int number)
    {
        const ulong Ones = 0x0101_0101_0101_0101;
        const ulong Blanks = 0x2020_2020_2020_2020;
        ulong zero = text ^ Blanks;
        ulong found = (zero - Ones) & ~zero & (Ones << 7);
        int bits = BitOperations.TrailingZeroCount(found) & ~7;
        ulong name = text & ((1ul << (bits & 63)) - 1);
        bool first = name == _lastName;
        number = first ? _lastNumber : _otherNumber;
        return (first || name == _otherName) && bits is > 0 and < 64 ? bits >> 3 : Search(name, bits, out number);
    }

    private int Search(ulong name, int bits, out int number)
    {
        number = 0;
        if (bits is 0 or 64)
            return 0;
        int at = Array.IndexOf(_names, name);
        if (at < 0)
        {
            Span<byte> bytes = stackalloc byte[sizeof(ulong)];
            BitConverter.TryWriteBytes(bytes, name);
            at = _next++ % Size;
            _names[at] = name;
            _numbers[at] = intake.Bus(bytes[..(bits >> 3)]);
        }

        (_otherName, _otherNumber) = (_lastName, _lastNumber);
        _lastName = name;
        _lastNumber = number = _numbers[at];
        return bits >> 3;
    }
}
