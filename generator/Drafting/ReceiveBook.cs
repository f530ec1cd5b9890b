using Locum.Capture;
using Locum.Inference;

namespace Locum.Drafting;

/// <summary>Collects the frames of other nodes that fields follow or frames answer.</summary>
internal sealed class ReceiveBook
{
    private readonly List<Entry> _entries = [];
    private readonly DraftNames _names = new();

    /// <summary>The frames, in the order in which they were asked for.</summary>
    public IReadOnlyList<Entry> Entries => _entries;

    /// <summary>The name of a received frame.</summary>
    public string Frame(FrameSeries series) => For(series).Name;

    /// <summary>The name of a received field, as FRAME.FIELD.</summary>
    public string Field(FrameSeries series, FieldPlace place, long? timeoutUs)
    {
        var entry = For(series);
        entry.TimeoutUs ??= timeoutUs;
        if (!entry.Fields.TryGetValue(place, out string? field))
            entry.Fields[place] = field = $"field-{place.Bit}{(entry.Fields.Keys.Any(p => p.Bit == place.Bit) ? $"-{place.Bits}" : "")}";
        return $"{entry.Name}.{field}";
    }

    private Entry For(FrameSeries series)
    {
        var entry = _entries.Find(e => e.Series == series);
        if (entry is null)
            _entries.Add(entry = new Entry(series, _names.Unique($"From{DraftNames.Frame(series.Id)[2..]}", "From")));
        return entry;
    }

    /// <summary>A received frame.</summary>
    internal sealed class Entry(FrameSeries series, string name)
    {
        public FrameSeries Series { get; } = series;

        public string Name { get; } = name;

        public long? TimeoutUs { get; set; }

        public Dictionary<FieldPlace, string> Fields { get; } = [];
    }
}
