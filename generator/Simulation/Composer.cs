using Locum.Formulas;
using Locum.Model;

namespace Locum.Simulation;

/// <summary>Writes a frame's payload (rule 12), bit by bit from the fields' positions.</summary>
internal sealed class Composer
{
    private readonly Frame _frame;
    private readonly byte[] _cleared;
    private readonly (Field Field, int[] Positions)[] _written;
    private readonly Dictionary<Field, Func<IFormulaInputs, int>> _formulas;

    public Composer(Frame frame)
    {
        _frame = frame;
        var written = frame.Fields.Where(f => f.Source is not null).Select(f => (f, f.Positions().ToArray())).ToList();
        _cleared = [.. frame.Base];
        foreach (var position in written.SelectMany(w => w.Item2))
            _cleared[position / 8] &= (byte)~(1 << (position % 8));
        _written = [.. written.OrderBy(w => Order(w.f))];
        _formulas = frame.Fields.Where(f => FormulaOf(f) is not null).ToDictionary(f => f, f => Evaluator.Compile(FormulaOf(f)!.Root), ReferenceEqualityComparer.Instance as IEqualityComparer<Field>);
    }

    public byte[] Compose(int mode, Func<int, uint> counterValue, IReadOnlyList<ReceivedState> receives, Func<Field, ulong> live)
    {
        var payload = (byte[])_cleared.Clone();
        var inputs = new ComposedPayload(_frame, payload, mode, receives);
        foreach (var (field, positions) in _written)
        {
            var raw = Raw(field, inputs, counterValue, live);
            for (var i = 0; i < positions.Length; i++)
                payload[positions[i] / 8] |= (byte)((raw >> i & 1) << (positions[i] % 8));
        }
        return payload;
    }

    /// <summary>
    /// What a field ought to hold beside what a payload that was sent holds in the fields written before it, cut to the
    /// field's bits. Live fields are not computed this way.
    /// </summary>
    /// <param name="sent">As long as the frame.</param>
    public ulong Expected(Field field, ReadOnlySpan<byte> sent, int mode, Func<int, uint> counterValue, IReadOnlyList<ReceivedState> receives)
    {
        var payload = sent.ToArray();
        foreach (var position in _written.SkipWhile(w => !ReferenceEquals(w.Field, field)).SelectMany(w => w.Positions))
            payload[position / 8] &= (byte)~(1 << (position % 8));
        return Raw(field, new ComposedPayload(_frame, payload, mode, receives), counterValue, NotLive) & (ulong.MaxValue >> (64 - field.Bits));
    }

    private ulong Raw(Field field, ComposedPayload inputs, Func<int, uint> counterValue, Func<Field, ulong> live) => field.Source switch
    {
        FixedValue value => value.Raw,
        ModeValue or FollowValue => Changing(field, inputs.Mode, inputs.Receives),
        LiveValue => live(field),
        CounterValue counter => counterValue(counter.Counter),
        FormulaValue { Formula: var formula, Lost: { } lost } when !inputs.HasAll(formula) => lost,
        FormulaValue or ChecksumValue { Checksum.Rule: FormulaRule } => (ulong)_formulas[field](inputs),
        ChecksumValue sum => ChecksumEngine.Compute(sum.Checksum, _frame.Id, inputs.Payload, counterValue),
        _ => throw new InvalidOperationException("field without a source"),
    };

    private static ulong NotLive(Field field) => throw new ArgumentException("a live field has a state of its own", nameof(field));

    /// <summary>The raw value of a field that changes with modes or received frames, cut to its bits.</summary>
    public static ulong Changing(Field field, int mode, IReadOnlyList<ReceivedState> receives) => field.Source switch
    {
        ModeValue byMode => byMode.Raw[mode],
        FollowValue follow => Follow(follow, receives) & (ulong.MaxValue >> (64 - field.Bits)),
        _ => throw new ArgumentOutOfRangeException(nameof(field)),
    };

    private static ulong Follow(FollowValue follow, IReadOnlyList<ReceivedState> receives) =>
        receives[follow.Received].Value(follow.Field) is { } raw ? (ulong)Followed(follow, raw) : follow.Lost;

    /// <summary>The signed raw value of a follower for a raw value of the received field (rule 21).</summary>
    public static long Followed(FollowValue follow, long raw) =>
        (long)Int128.Clamp(Rounding.HalfAway(((Int128)raw * follow.Numerator) + follow.Addend, follow.Denominator), follow.Low, follow.High);

    private static Formula? FormulaOf(Field field) => field.Source switch
    {
        FormulaValue value => value.Formula,
        ChecksumValue { Checksum.Rule: FormulaRule rule } => rule.Formula,
        _ => null,
    };

    private static int Order(Field field) => field.Source switch
    {
        CounterValue => 1,
        FormulaValue => 2,
        ChecksumValue => 3,
        _ => 0,
    };
}
