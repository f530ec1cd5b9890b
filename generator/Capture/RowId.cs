using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using Locum.Model;
using Locum.Wire;

namespace Locum.Capture;

/// <summary>Identifiers in tables: 0x123, 123h, 00000123, 18FEF100x, or decimal.</summary>
internal sealed class RowId(RowPlan plan)
{
    /// <summary>What <see cref="Read"/> gives for anything that is no identifier.</summary>
    public const FrameTraits Bad = (FrameTraits)0xFF;

    // 11-bit identifiers have three digits, four at most.
    private const int ShortDigits = 4;
    private const int LongDigits = 8;

    private readonly bool _hex = plan.IdBase is NumberBase.Hex;
    private readonly bool _byDigits = plan.IdKind is IdKindRule.ByDigits;
    private readonly bool _usual = plan.IdKind is IdKindRule.ByValue or IdKindRule.ByDigits;
    private readonly bool _noColumn = plan.Find(ColumnRole.Extended) < 0;

    public uint Value { get; private set; }

    public RowNotes Notes { get; private set; }

    /// <summary>Traits of the identifier, or <see cref="Bad"/>.</summary>
    /// <param name="text">The field, and what follows it: 18 bytes at least.</param>
    /// <param name="length">Bytes of the field, at least 1.</param>
    public FrameTraits Read(ReadOnlySpan<byte> text, int length)
    {
        Notes = RowNotes.None;
        int start = length > 2 && text[1] is (byte)'x' && text[0] is (byte)'0' ? 2 : 0;
        int count = length - start;
        if (_usual && count is > 0 and <= LongDigits && (_hex || start > 0))
        {
            Span<byte> bytes = stackalloc byte[Digits.Block / 2];
            int digits = Digits.Decode(text.Slice(start, Digits.Block), bytes);
            uint id = BinaryPrimitives.ReadUInt32BigEndian(bytes) >> (4 * (LongDigits - count));
            if (digits >= count && id <= CanId.MaxExtended)
                return Judge(id, count);
        }

        return General(text[..length]);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private FrameTraits Judge(uint id, int digits)
    {
        Value = id;
        if (id > CanId.MaxStandard || (_byDigits && digits > ShortDigits))
            return FrameTraits.Extended;
        if (digits is LongDigits && _noColumn)
            Notes = RowNotes.PaddedId;
        return FrameTraits.None;
    }

    private FrameTraits General(ReadOnlySpan<byte> field)
    {
        var traits = FrameTraits.None;
        bool hex = _hex;
        if (field.Length > 1 && field[^1] is (byte)':' or (byte)',' or (byte)'#')
            field = field[..^1];
        if (field.Length > 2 && field[0] is (byte)'0' && (field[1] | 0x20) is (byte)'x')
        {
            field = field[2..];
            hex = true;
        }

        if (field.Length > 1 && (field[^1] | 0x20) is (byte)'x')
        {
            field = field[..^1];
            traits = FrameTraits.Extended;
        }
        else if (field.Length > 1 && (field[^1] | 0x20) is (byte)'h')
        {
            field = field[..^1];
            hex = true;
        }

        if (hex && field.Length > LongDigits)
            field = field.TrimStart((byte)'0');
        if ((hex ? Digits.Number(field) : Digits.Decimal(field)) is not { } id || id > CanId.MaxExtended)
            return Bad;
        Value = (uint)id;
        bool extended = traits is FrameTraits.Extended || Value > CanId.MaxStandard || plan.IdKind is IdKindRule.Extended
            || (plan.IdKind is IdKindRule.ByDigits && field.Length > ShortDigits);
        if (extended && Value > CanId.MaxStandard && plan.IdKind is IdKindRule.Standard)
            Notes |= RowNotes.ExtendedByValue;
        if (!extended && hex && _noColumn && field.Length is LongDigits)
            Notes |= RowNotes.PaddedId;
        return extended ? FrameTraits.Extended : FrameTraits.None;
    }
}
