using Locum.Diagnostics;
using Locum.Model;
using Locum.Syntax;

namespace Locum.Binding;

/// <summary>Values that move with the releases of their frame: ramps, noise, late or slow followers. Times become numbers of releases.</summary>
internal static class LiveBinder
{
    public const int MostSteps = 65_535;
    public const int MostDelay = 250;

    private static readonly Dictionary<string, RampEnd> s_ends = new(StringComparer.Ordinal) { ["hold"] = RampEnd.Hold, ["repeat"] = RampEnd.Repeat, ["back"] = RampEnd.Back };

    /// <summary>The field's live source, or null when it has none.</summary>
    public static LiveValue? Bind(MappingReader field, Field place, Bound bound)
    {
        var periodUs = bound.SteadyPeriodUs;
        var ramp = field.Optional("ramp");
        var noise = field.Optional("noise");
        if (ramp is null && noise is null)
            return null;
        if (!Fits(field, ramp is null ? "noise" : "ramp", place, periodUs, bound))
            return null;
        return ramp is not null ? BindRamp(ramp, place, periodUs, bound) : BindNoise(noise!, place, bound);
    }

    /// <summary>Delay and slew of a follower; null when it has neither.</summary>
    public static (int Delay, long Slew)? BindLag(MappingReader follow, MappingReader field, Field place, Bound bound)
    {
        var periodUs = bound.SteadyPeriodUs;
        var delay = Scalars.TimeUs(follow.Optional("delay"), bound.Diagnostics, "the delay", 1, InputBinder.LongestDelayUs);
        var slewNode = follow.Optional("slew");
        var slew = Scalars.Number(slewNode, bound.Diagnostics, "the slew");
        if ((delay is null && slew is null) || !Fits(field, "follow", place, periodUs, bound))
            return null;
        var releases = delay is null ? 0 : (delay.Value + (periodUs / 2)) / periodUs;
        if (delay is not null && releases is < 1 or > MostDelay)
            bound.Diagnostics.Add(Codes.OutOfRange, follow.ValueSpan("delay"), $"a delay of {delay} µs is {releases} periods of the frame, outside 1 to {MostDelay}", "choose a delay that lies between one and 250 periods");
        var step = slew is null ? 0 : Math.Round(slew.Value * periodUs / 1_000_000 / Math.Abs(place.Scale), MidpointRounding.AwayFromZero);
        if (slew is not null && step is < 1 or > int.MaxValue)
            bound.Diagnostics.Add(Codes.OutOfRange, slewNode!.Span, $"{slew} per second is {step} raw steps per frame, outside 1 to {int.MaxValue}", "choose a slew of at least one step of the scale per period");
        return ((int)Math.Clamp(releases, 0, MostDelay), (long)Math.Clamp(step, 0, int.MaxValue));
    }

    private static LiveValue BindRamp(SyntaxNode node, Field place, long periodUs, Bound bound)
    {
        var reader = new MappingReader(node, bound.Diagnostics, "a ramp");
        var from = Value(reader.Required("from", "give the first value"), place, bound);
        var to = Value(reader.Required("to", "give the last value"), place, bound);
        var overNode = reader.Required("over", "say how long it takes, such as 'over: 5 s'");
        var over = Scalars.TimeUs(overNode, bound.Diagnostics, "the ramp's time", 1, ModeBinder.LongestStayUs) ?? periodUs;
        var end = Scalars.Word(reader.Optional("then"), bound.Diagnostics, "end of a ramp", s_ends) ?? RampEnd.Hold;
        reader.Done();
        var steps = (over + (periodUs / 2)) / periodUs;
        if (steps is < 1 or > MostSteps)
            bound.Diagnostics.Add(Codes.OutOfRange, overNode?.Span ?? node.Span, $"a ramp over {over} µs has {steps} frames, outside 1 to {MostSteps}", "choose a time that lies between one and 65535 periods");
        return new LiveValue(new Ramp(from, to, Math.Clamp(steps, 1, MostSteps), end));
    }

    private static LiveValue BindNoise(SyntaxNode node, Field place, Bound bound)
    {
        var reader = new MappingReader(node, bound.Diagnostics, "noise");
        var centre = Value(reader.Required("around", "give the middle value"), place, bound);
        var spanNode = reader.Required("span", "give the largest deviation");
        var span = Scalars.Number(spanNode, bound.Diagnostics, "the span");
        var seed = (uint)(Scalars.Integer(reader.Required("seed", "write a seed, so that every run is the same: 'seed: 7'"), bound.Diagnostics, "the seed", 1, uint.MaxValue) ?? 1);
        reader.Done();
        var raw = span is null ? 0 : Math.Round(Math.Abs(span.Value / place.Scale), MidpointRounding.AwayFromZero);
        if (raw is < 1 or > 1_000_000_000 || centre - raw < FieldValues.Lowest(place) || centre + raw > FieldValues.Highest(place))
        {
            bound.Diagnostics.Add(Codes.ValueOutside, spanNode?.Span ?? node.Span, $"a deviation of {raw} raw steps around {centre} does not fit {FieldValues.Describe(place)}, or is none", "choose a span of at least one step that stays inside the field");
            raw = 0;
        }
        return new LiveValue(new Noise(centre, (long)raw, seed));
    }

    // A live value counts releases, so its frame needs one steady period; its field must fit a 32-bit number.
    private static bool Fits(MappingReader field, string key, Field place, long periodUs, Bound bound)
    {
        if (periodUs is 0)
            bound.Diagnostics.Add(Codes.NoSteadyPeriod, field.SpanOf(key), $"'{place.Name}' moves with the frame's releases, which have no steady distance", "give the frame one period, without 'burst' and 'on'");
        var narrow = place.Bits <= (place.Signed ? 32 : 31);
        if (!narrow)
            bound.Diagnostics.Add(Codes.OutOfRange, field.SpanOf(key), $"'{place.Name}' has {place.Bits} bits; values that move have at most 31, or 32 with a sign", "move the part that matters in a narrower field");
        return periodUs > 0 && narrow;
    }

    private static long Value(SyntaxNode? node, Field place, Bound bound) =>
        node is ScalarNode scalar ? FieldValues.RawSigned(scalar, place, bound.Diagnostics) ?? 0 : 0;
}
