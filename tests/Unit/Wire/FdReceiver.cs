using System.Text;
using Locum.Wire;

namespace Locum.Tests.Unit.Wire;

/// <summary>
/// Reads a CAN FD frame from its bits as a receiver does: takes out stuff bits while looking for the end of the
/// data, then checks every fixed stuff bit, the stuff count and the CRC. Shares no code with the product.
/// </summary>
internal sealed class FdReceiver
{
    private static readonly int[] s_lengths = [0, 1, 2, 3, 4, 5, 6, 7, 8, 12, 16, 20, 24, 32, 48, 64];

    private readonly string _wire;
    private readonly List<char> _covered = [];
    private int _at;
    private int _run;
    private int _stuffBits;

    private FdReceiver(string wire) => _wire = wire;

    public CanId Id { get; private set; }

    public bool Switched { get; private set; }

    public byte[] Data { get; private set; } = [];

    /// <summary>Bits from SOF to BRS and from ESI to CRC delimiter, stuff bits included.</summary>
    public int BitsToSwitch { get; private set; }

    public int BitsBehindSwitch { get; private set; }

    /// <exception cref="FormatException">The bits are no valid frame.</exception>
    public static FdReceiver Read(string wire)
    {
        var receiver = new FdReceiver(wire);
        receiver.Header();
        receiver.CrcField();
        return receiver;
    }

    private void Header()
    {
        Require(Take(1) == 0, "SOF");
        uint first = Take(11);
        uint next = Take(2);
        if ((next & 1) == 0)
        {
            Id = new CanId(first, false);
            Require(next == 0, "RRS");
        }
        else
        {
            Require(next == 3, "SRR");
            Id = new CanId((first << 18) | Take(18), true);
            Require(Take(1) == 0, "RRS");
        }

        Require(Take(2) == 2, "FDF and res");
        Switched = Take(1) == 1;
        BitsToSwitch = _at;
        Require(Take(1) == 0, "ESI");
        Data = new byte[s_lengths[Take(4)]];
        for (int i = 0; i < Data.Length; i++)
            Data[i] = (byte)Take(8);
    }

    private void CrcField()
    {
        int width = Data.Length <= 16 ? 17 : 21;
        var field = new StringBuilder();
        for (int i = 0; i < 4 + width; i++)
        {
            if (i % 4 == 0)
            {
                Require(_wire[_at] != _wire[_at - 1], "fixed stuff bit");
                _at++;
            }

            field.Append(_wire[_at++]);
        }

        string text = field.ToString();
        string[] codes = ["0000", "0011", "0110", "0101", "1100", "1111", "1010", "1001"];
        Require(text[..4] == codes[_stuffBits % 8], "stuff count");
        Require(Remainder(string.Concat(_covered) + text, width) == 0, "CRC");
        Require(_wire[_at++] == '1', "CRC delimiter");
        BitsBehindSwitch = _at - BitsToSwitch;
        Require(_wire[_at..] == "011111111", "ACK and end of frame");
    }

    // Division of everything, CRC included, by the polynomial: the register ends at 0. A start value with only
    // the highest bit set is the same as start value 0 and the first bit inverted.
    private static uint Remainder(string bits, int width)
    {
        uint poly = width == 17 ? 0x3685Bu : 0x302899u;
        uint register = 0;
        foreach (char bit in (bits[0] == '0' ? '1' : '0') + bits[1..])
        {
            register = (register << 1) | (uint)(bit - '0');
            if (register >> width != 0)
                register ^= poly;
        }

        return register;
    }

    private uint Take(int count)
    {
        uint value = 0;
        for (int i = 0; i < count; i++)
        {
            // Seen from the receiver, the sixth bit is a stuff bit.
            if (_run == 5)
            {
                Require(_wire[_at] != _wire[_at - 1], "stuff bit");
                _covered.Add(_wire[_at++]);
                _stuffBits++;
                _run = 1;
            }

            _run = _at > 0 && _wire[_at] == _wire[_at - 1] ? _run + 1 : 1;
            _covered.Add(_wire[_at]);
            value = (value << 1) | (uint)(_wire[_at++] - '0');
        }

        return value;
    }

    private static void Require(bool holds, string what)
    {
        if (!holds)
            throw new FormatException($"a receiver finds a fault in: {what}");
    }
}
