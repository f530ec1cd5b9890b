using System.Text;
using System.Text.Json;
using Locum.Model;
using Locum.Wire;

namespace Locum.Capture;

/// <summary>Which keys of JSON lines hold what.</summary>
internal sealed class JsonForm
{
    // Of several times the first of these is taken: that of the frame, then its end, then its start.
    private static readonly string[] s_times = ["time", "timestamp", "ts", "end"];

    private readonly Dictionary<string, ColumnRole> _roles;

    private JsonForm(Dictionary<string, ColumnRole> roles) => _roles = roles;

    /// <summary>Unit of the times; null when there are none.</summary>
    public TimeUnit? Unit { get; private init; }

    public required string TimeText { get; init; }

    /// <summary>What a key holds; <see cref="ColumnRole.Other"/> when nothing that matters.</summary>
    public ColumnRole Role(string key) => _roles.GetValueOrDefault(key, ColumnRole.Other);

    /// <summary>The form, when most lines of the sample are objects with an identifier and data; null otherwise.</summary>
    public static JsonForm? Recognise(IReadOnlyList<SampleLine> sample)
    {
        var objects = sample.Where(l => l.Bytes.AsSpan().TrimStart((byte)' ').StartsWith("{"u8)).Select(Parse).OfType<JsonElement>().ToList();
        if (objects.Count is 0 || objects.Count < sample.Count(l => l.Bytes.Length > 0) / 2)
            return null;
        var roles = Roles(objects);
        if (!roles.ContainsValue(ColumnRole.Id) || !roles.ContainsValue(ColumnRole.Data))
            return null;
        string? time = roles.Where(r => r.Value is ColumnRole.Time).Select(r => r.Key).FirstOrDefault();
        if (time is null)
            return new JsonForm(roles) { TimeText = "no key holds the time; entries are numbered" };
        if (objects.All(o => o.TryGetProperty(time, out var t) && t.ValueKind is JsonValueKind.String && Token.IsClock(t.GetString()!)))
            return new JsonForm(roles) { Unit = TimeUnit.Clock, TimeText = "times of day" };
        var guess = TimeJudge.Judge(Samples(objects, time, roles), objects.Any(o => Raw(o, time).Contains('.', StringComparison.Ordinal)), HeaderWords.Of(time)?.Unit);
        return new JsonForm(roles) { Unit = guess.Unit, TimeText = $"in {TimeJudge.Word(guess.Unit)} ({guess.Sure}: {guess.Reason})" };
    }

    private static Dictionary<string, ColumnRole> Roles(IReadOnlyList<JsonElement> objects)
    {
        var roles = new Dictionary<string, ColumnRole>(StringComparer.Ordinal);
        var keys = objects.SelectMany(o => o.EnumerateObject().Select(p => p.Name)).Distinct(StringComparer.Ordinal).ToList();
        foreach (string key in keys.OrderBy(k => Array.FindIndex(s_times, t => k.StartsWith(t, StringComparison.OrdinalIgnoreCase)) is >= 0 and var i ? i : s_times.Length))
        {
            if (HeaderWords.Of(key) is { Role: not (ColumnRole.Other or ColumnRole.Byte) } word && !roles.ContainsValue(word.Role))
                roles[key] = word.Role;
        }

        return roles;
    }

    private static List<TimeSample> Samples(IReadOnlyList<JsonElement> objects, string time, Dictionary<string, ColumnRole> roles)
    {
        string id = roles.First(r => r.Value is ColumnRole.Id).Key;
        string? bus = roles.Where(r => r.Value is ColumnRole.Bus).Select(r => r.Key).FirstOrDefault();
        var buses = new List<string>();
        var samples = new List<TimeSample>();
        foreach (var o in objects)
        {
            if (Token.Decimal(Raw(o, time)) is not { } value)
                continue;
            string name = bus is null ? "" : Raw(o, bus);
            if (!buses.Contains(name))
                buses.Add(name);
            ulong key = (ulong)(uint)Raw(o, id).GetHashCode(StringComparison.Ordinal) | ((ulong)buses.IndexOf(name) << 32);
            samples.Add(new TimeSample(value, buses.IndexOf(name), key, FrameLength.MinimumBits(false, 4)));
        }

        return samples;
    }

    private static string Raw(JsonElement o, string key) => o.TryGetProperty(key, out var value) ? value.ToString() : "";

    private static JsonElement? Parse(SampleLine line)
    {
        try
        {
            var root = JsonDocument.Parse(Encoding.UTF8.GetString(line.Bytes).TrimEnd(' ', ',')).RootElement;
            return root.ValueKind is JsonValueKind.Object ? root : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }
}
