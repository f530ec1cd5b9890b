using System.Numerics;
using Locum.Formulas;
using Locum.Model;
using Locum.Reporting;
using Locum.Simulation;

namespace Locum.Auditing;

/// <summary>Judges payloads of a frame, or of one of its pages, field by field.</summary>
internal sealed class PageJudge
{
    private readonly Frame _frame;
    private readonly ulong _sentIn;
    private readonly Composer _composer;
    private readonly byte[] _mask;
    private readonly byte[] _fixed;
    private readonly List<(Field Field, ModeValue Value)> _byMode;
    private readonly Dictionary<int, Field> _counters;
    private readonly IReadOnlyList<Counter> _allCounters;
    private readonly Dictionary<Field, LagRange> _lags;

    /// <param name="frame">A frame without pages.</param>
    /// <param name="sentIn">Its modes, as a set of bits.</param>
    /// <param name="lags">Followers that are late or slow, with what they can have reached.</param>
    public PageJudge(Frame frame, ulong sentIn, IReadOnlyList<Counter> counters, Dictionary<Field, LagRange> lags)
    {
        _frame = frame;
        _sentIn = sentIn;
        _allCounters = counters;
        _lags = lags;
        _composer = new Composer(frame);
        _mask = [.. Enumerable.Repeat((byte)0xFF, frame.Length)];
        _fixed = [.. frame.Base];
        foreach (var field in frame.Fields.Where(f => f.Source is not null))
            foreach (var position in field.Positions())
                _mask[position / 8] &= (byte)~(1 << (position % 8));
        _byMode = [.. frame.Fields.Where(f => f.Source is ModeValue).Select(f => (f, (ModeValue)f.Source!))];
        _counters = frame.Fields.Where(f => f.Source is CounterValue).GroupBy(f => ((CounterValue)f.Source!).Counter).ToDictionary(g => g.Key, g => g.First());
    }

    public IReadOnlyDictionary<int, Field> Counters => _counters;

    /// <summary>How many bits that are always the same differ.</summary>
    public int Distance(ReadOnlySpan<byte> data)
    {
        var bits = 0;
        for (var i = 0; i < _mask.Length; i++)
            bits += BitOperations.PopCount((uint)((data[i] ^ _fixed[i]) & _mask[i]));
        foreach (var field in _frame.Fields)
            if (field.Source is FixedValue value)
                bits += BitOperations.PopCount(field.ReadBits(data) ^ (value.Raw & Bits(field)));
        return bits;
    }

    /// <summary>Modes in which all fields with values by mode have what the payload holds.</summary>
    public ulong Modes(ReadOnlySpan<byte> data)
    {
        var modes = _sentIn;
        foreach (var (field, value) in _byMode)
            modes &= ModesWith(field, value, field.ReadBits(data));
        return modes;
    }

    /// <summary>Everything that is wrong.</summary>
    /// <param name="data">As long as the frame.</param>
    public List<Fault> Judge(ReadOnlySpan<byte> data, ReceivedChoice received)
    {
        var faults = new List<Fault>();
        var other = false;
        for (var i = 0; i < _mask.Length; i++)
            other |= ((data[i] ^ _fixed[i]) & _mask[i]) is not 0;
        if (other)
            faults.Add(new Fault(FaultKind.Fixed, null, 0, Row(_fixed)));
        var modes = Modes(data);
        var sent = data.ToArray();
        var counterValue = CounterValue(sent);
        foreach (var field in _frame.Fields)
            if (field.Source is not null && Check(field, sent, modes is 0 ? _sentIn : modes, counterValue, received) is { } fault)
                faults.Add(fault);
        if (modes is 0 && faults.TrueForAll(f => f.Kind is not FaultKind.Mode))
            faults.Add(new Fault(FaultKind.Mode, _byMode[0].Field, _byMode[0].Field.ReadBits(data), "the values of one mode in all fields"));
        return faults;
    }

    private Fault? Check(Field field, byte[] sent, ulong modes, Func<int, uint> counterValue, ReceivedChoice received)
    {
        var got = field.ReadBits(sent);
        switch (field.Source)
        {
            case FixedValue value:
                return got == (value.Raw & Bits(field)) ? null : new Fault(FaultKind.Fixed, field, got, RawText.Of(value.Raw & Bits(field), field));
            case ModeValue value:
                return ModesWith(field, value, got) is not 0 ? null
                    : new Fault(FaultKind.Mode, field, got, string.Join(" or ", value.Raw.Where(r => (_sentIn >> r.Key & 1) is not 0).Select(r => RawText.Of(r.Value & Bits(field), field)).Distinct()));
            case CounterValue { Counter: var index }:
                var counter = _allCounters[index];
                return CounterPlace.Of(counter, got) is not null ? null : new Fault(FaultKind.Counter, field, got, $"{counter.From} to {counter.To}{(counter.Step is 1 ? "" : $" in steps of {counter.Step}")}");
            case LiveValue { Live: var live }:
                return CheckLive(field, live, got, received);
            case FollowValue follow:
                return CheckFollow(field, follow, got, received);
            case FormulaValue { Formula: var formula }:
                return Compute(FaultKind.Formula, field, formula, sent, modes, counterValue, received);
            case ChecksumValue { Checksum: var sum }:
                return sum.Before.Concat(sum.With).OfType<SecretByte>().Any(s => !Readable(s, counterValue)) ? null
                    : Compute(FaultKind.Checksum, field, (sum.Rule as FormulaRule)?.Formula, sent, modes, counterValue, received);
            default:
                return null;
        }
    }

    private Fault? Compute(FaultKind kind, Field field, Formula? formula, byte[] sent, ulong modes, Func<int, uint> counterValue, ReceivedChoice received)
    {
        var got = field.ReadBits(sent);
        var rows = formula?.Symbols.Where(s => s.Origin is FormulaOrigin.Received).Select(s => s.Frame).Distinct().ToList() ?? [];
        if (received.States(rows) is not { } states)
            return null;
        ulong? expected = null;
        foreach (var state in states)
            for (var mode = 0; mode < ModePaths.Most; mode++)
            {
                if ((modes >> mode & 1) is 0)
                    continue;
                expected = _composer.Expected(field, sent, mode, counterValue, state);
                if (expected == got)
                    return null;
                if (formula?.ReadsMode is not true)
                    break;
            }
        return new Fault(kind, field, got, $"0x{expected:X}");
    }

    private Fault? CheckLive(Field field, Live live, ulong got, ReceivedChoice received)
    {
        var value = field.WithSign(got);
        switch (live)
        {
            case Noise noise:
                return Math.Abs(value - noise.Centre) <= noise.Span ? null
                    : new Fault(FaultKind.Moving, field, got, Between(field, noise.Centre - noise.Span, noise.Centre + noise.Span));
            case Ramp ramp:
                return RampPlaces.Has(ramp, value) ? null
                    : new Fault(FaultKind.Moving, field, got, Between(field, Math.Min(ramp.From, ramp.To), Math.Max(ramp.From, ramp.To)));
            case Lag lag:
                var range = _lags[field];
                return range.Take(lag, field, value, received) is not { } reach || (reach.Low <= value && value <= reach.High) ? null
                    : new Fault(FaultKind.Follow, field, got, Between(field, reach.Low, reach.High));
            default:
                return null;
        }
    }

    private static Fault? CheckFollow(Field field, FollowValue follow, ulong got, ReceivedChoice received)
    {
        var heard = received.Of(follow.Received);
        if (heard.MayBeUnknown || (heard.MayBeLost && got == (follow.Lost & Bits(field))))
            return null;
        var hearing = received.Hearings[follow.Received];
        var value = field.WithSign(got);
        long? expected = null;
        for (var i = heard.First; i < heard.End; i++)
        {
            expected = field.WithSign((ulong)Composer.Followed(follow, hearing.Read(i, follow.Field)) & Bits(field));
            if (expected == value)
                return null;
        }
        return new Fault(FaultKind.Follow, field, got, expected is { } e ? RawText.Of((ulong)e & Bits(field), field) : RawText.Of(follow.Lost & Bits(field), field));
    }

    private Func<int, uint> CounterValue(byte[] sent) =>
        counter => _counters.TryGetValue(counter, out var field) ? (uint)field.ReadBits(sent) : uint.MaxValue;

    private static bool Readable(SecretByte secret, Func<int, uint> counterValue) =>
        counterValue(secret.Counter) is var value && value >= secret.Lowest && value - secret.Lowest < secret.Table.Length;

    private ulong ModesWith(Field field, ModeValue value, ulong got)
    {
        var modes = 0UL;
        foreach (var (mode, raw) in value.Raw)
            if ((raw & Bits(field)) == got)
                modes |= 1UL << mode;
        return modes & _sentIn;
    }

    private static string Between(Field field, long low, long high) =>
        $"{RawText.Of((ulong)low & Bits(field), field)} to {RawText.Of((ulong)high & Bits(field), field)}";

    private static ulong Bits(Field field) => ulong.MaxValue >> (64 - field.Bits);

    private static string Row(IEnumerable<byte> bytes) => string.Join(' ', bytes.Select(b => b.ToString("X2")));
}
