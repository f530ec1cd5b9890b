using System.Buffers;
using System.Buffers.Binary;
using System.Text;

namespace Locum.Traces;

/// <summary>
/// One block of a pcapng file (the IETF draft of the format, from memory), built little-endian: type, total
/// length, body and options padded to 32 bits, total length again.
/// </summary>
internal sealed class PcapNgBlock
{
    private const ushort EndOfOptions = 0;

    // The type, and the total length in front of the body and behind it.
    private const int Overhead = 12;

    private readonly uint _type;
    private readonly ArrayBufferWriter<byte> _body = new();
    private bool _hasOptions;

    public PcapNgBlock(uint type) => _type = type;

    public void Add16(ushort value)
    {
        BinaryPrimitives.WriteUInt16LittleEndian(_body.GetSpan(2), value);
        _body.Advance(2);
    }

    public void Add32(uint value)
    {
        BinaryPrimitives.WriteUInt32LittleEndian(_body.GetSpan(4), value);
        _body.Advance(4);
    }

    /// <summary>Bytes, then zeros up to the next multiple of four.</summary>
    public void AddPadded(ReadOnlySpan<byte> bytes)
    {
        _body.Write(bytes);
        ReadOnlySpan<byte> zeros = [0, 0, 0];
        _body.Write(zeros[..(-bytes.Length & 3)]);
    }

    public void AddOption(ushort code, ReadOnlySpan<byte> value)
    {
        Add16(code);
        Add16(checked((ushort)value.Length));
        AddPadded(value);
        _hasOptions = true;
    }

    public void AddOption(ushort code, string value) => AddOption(code, Encoding.UTF8.GetBytes(value));

    public void WriteTo(Stream output)
    {
        if (_hasOptions)
        {
            Add16(EndOfOptions);
            Add16(0);
        }

        Span<byte> number = stackalloc byte[4];
        BinaryPrimitives.WriteUInt32LittleEndian(number, _type);
        output.Write(number);
        BinaryPrimitives.WriteInt32LittleEndian(number, _body.WrittenCount + Overhead);
        output.Write(number);
        output.Write(_body.WrittenSpan);
        output.Write(number);
    }
}
