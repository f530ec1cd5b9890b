using Locum.Model;

namespace Locum.Validation;

/// <summary>Every combination of what a module's conditions look at: input levels, lost or present frames, and field values on either side of each limit.</summary>
internal sealed class ConditionSpace
{
    private readonly Module _module;
    private readonly List<int> _inputs;
    private readonly List<int> _frames;
    private readonly List<(int Received, int Field)> _fields;
    private readonly List<long[]> _values;
    private readonly int[] _sizes;
    private readonly int[] _chosen;

    public ConditionSpace(Module module)
    {
        _module = module;
        var all = module.Modes.SelectMany(m => m.Exits).SelectMany(e => e.When).Distinct().ToList();
        _inputs = [.. all.OfType<InputCondition>().Select(c => c.Input).Distinct()];
        var fields = all.OfType<FieldCondition>().ToList();
        _frames = [.. all.OfType<ReceivedCondition>().Select(c => c.Received).Concat(fields.Select(c => c.Received)).Distinct()];
        _fields = [.. fields.Select(c => (c.Received, c.Field)).Distinct()];
        _values = [.. _fields.Select(f => fields.Where(c => (c.Received, c.Field) == f).SelectMany(c => new[] { c.Raw - 1, c.Raw, c.Raw + 1 }).Distinct().ToArray())];
        _sizes = [.. _inputs.Select(_ => 2), .. _frames.Select(_ => 2), .. _values.Select(v => v.Length)];
        _chosen = new int[_sizes.Length];
        Combinations = _sizes.Aggregate(1L, (n, size) => Math.Min(n * size, 1L << 40));
    }

    public long Combinations { get; }

    /// <summary>Takes one combination, by its number below <see cref="Combinations"/>.</summary>
    public void Select(long number)
    {
        for (var i = 0; i < _sizes.Length; i++)
        {
            _chosen[i] = (int)(number % _sizes[i]);
            number /= _sizes[i];
        }
    }

    public bool Holds(Condition condition) => condition switch
    {
        InputCondition input => (_chosen[_inputs.IndexOf(input.Input)] is 1) == input.Active,
        ReceivedCondition received => There(received.Received) == received.There,
        FieldCondition field => There(field.Received) && field.HoldsFor(Value(field)),
        _ => throw new ArgumentOutOfRangeException(nameof(condition)),
    };

    public string Describe() => string.Join(", ",
    [
        .. _inputs.Select((input, i) => $"{_module.Inputs[input].Name} {(_chosen[i] is 1 ? "active" : "inactive")}"),
        .. _frames.Select(frame => $"{_module.Receives[frame].Name} {(There(frame) ? "received" : "lost")}"),
        .. _fields.Where(f => There(f.Received)).Select(f => $"{_module.Receives[f.Received].Name}.{_module.Receives[f.Received].Fields[f.Field].Name} at raw {_values[_fields.IndexOf(f)][_chosen[_inputs.Count + _frames.Count + _fields.IndexOf(f)]]}"),
    ]);

    private bool There(int frame) => _chosen[_inputs.Count + _frames.IndexOf(frame)] is 1;

    private long Value(FieldCondition condition)
    {
        var index = _fields.IndexOf((condition.Received, condition.Field));
        return _values[index][_chosen[_inputs.Count + _frames.Count + index]];
    }
}
