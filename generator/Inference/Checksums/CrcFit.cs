using System.Runtime.CompilerServices;

namespace Locum.Inference.Checksums;

/// <summary>
/// A CRC without start value, final value and extra bytes: c = L(payload) xor K, with K one constant for one length
/// (see <see cref="CrcSearch"/>).
/// </summary>
internal sealed record CrcFit : Fit
{
    private readonly CrcTable _table;

    /// <param name="place">Where the CRC stands.</param>
    /// <param name="range">What it reads.</param>
    /// <param name="behind">Constant bytes that are read behind the payload.</param>
    /// <param name="reflectIn">Bytes enter with the lowest bit first.</param>
    /// <param name="reflectOut">The register is mirrored at the end.</param>
    /// <param name="table">The polynomial, of the place's width.</param>
    public CrcFit(ChecksumPlace place, ByteRange range, int behind, bool reflectIn, bool reflectOut, CrcTable table)
        : base(place, range)
    {
        Behind = behind;
        ReflectIn = reflectIn;
        ReflectOut = reflectOut;
        _table = table;
    }

    /// <summary>Constant bytes read behind the payload.</summary>
    public int Behind { get; }

    /// <summary>Bytes enter with the lowest bit first.</summary>
    public bool ReflectIn { get; }

    /// <summary>The register is mirrored at the end.</summary>
    public bool ReflectOut { get; }

    /// <summary>Polynomial without its highest term, unreflected.</summary>
    public ulong Poly => _table.Poly;

    /// <inheritdoc/>
    public override RuleFamily Family =>
        Classes is not null ? RuleFamily.Secret : Place.Bits switch { 8 => RuleFamily.Crc8, 16 => RuleFamily.Crc16, _ => RuleFamily.Wide };

    /// <inheritdoc/>
    public override bool IsPlain => false;

    /// <inheritdoc/>
    public override string Arithmetic => LinearArithmetic;

    /// <inheritdoc/>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public override ulong Residue(ReadOnlySpan<byte> payload)
    {
        ulong register = 0;
        foreach (int index in Range.Bytes)
            register = Step(register, (byte)(payload[index] & ~Place.Mask(index)));
        return Finish(register) ^ Place.Read(payload);
    }

    /// <inheritdoc/>
    public override ulong Response(int index, int bit)
    {
        ulong register = 0;
        byte value = (byte)((1 << bit) & Range.Mask(index, Place));
        foreach (int at in Range.Bytes)
            register = Step(register, at == index ? value : (byte)0);
        return Finish(register);
    }

    /// <summary>The same CRC over other bytes.</summary>
    public CrcFit Over(ByteRange range, int behind) => new(Place, range, behind, ReflectIn, ReflectOut, _table);

    private ulong Step(ulong register, byte value) => _table.Step(register, ReflectIn ? Bits.Reverse(value) : value);

    private ulong Finish(ulong register)
    {
        for (int i = 0; i < Behind; i++)
            register = Step(register, 0);
        ulong value = register >> (64 - Place.Bits);
        return ReflectOut ? Bits.Reverse(value, Place.Bits) : value;
    }
}
