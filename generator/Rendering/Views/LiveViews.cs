using Locum.Binding;
using Locum.Model;

namespace Locum.Rendering.Views;

/// <summary>A field that moves when its frame is released.</summary>
/// <param name="Kind">ramp, noise or lag.</param>
/// <param name="C">C name of the variable that holds the raw value.</param>
/// <param name="Work">C type for intermediate values.</param>
public sealed record LiveView(string Kind, string Comment, string C, string Work, RampView? Ramp, NoiseView? Noise, LagView? Lag);

/// <param name="Back">Twice the steps when the ramp goes back, otherwise empty.</param>
/// <param name="Last">The place after which the ramp starts again, or at which it holds.</param>
public sealed record RampView(string From, string Distance, string Steps, string Half, string Back, string Last, bool Holds);

public sealed record NoiseView(string Low, string Modulus, string Seed);

/// <param name="Delay">Releases of delay; 0 for none.</param>
/// <param name="Slew">Largest change; empty for any.</param>
public sealed record LagView(FollowView Follow, string Lost, int Delay, string Slew);

internal static class LiveViews
{
    public static string Variable(Field field, string frameC) => $"live_{frameC}_{Names.ToC(field.Name)}";

    public static LiveView Of(Field field, Live live, string frameC, Module module)
    {
        var c = Variable(field, frameC);
        return live switch
        {
            Ramp ramp => new LiveView("ramp", $"{CText.Comment(field.Name)}: a ramp in {ramp.Steps} steps", c, Fits((Int128)(ramp.To - ramp.From) * ramp.Steps) ? "int32_t" : "int64_t", Of(ramp), null, null),
            Noise noise => new LiveView("noise", $"{CText.Comment(field.Name)}: noise", c, "int32_t", null,
                new NoiseView(ConditionText.Number(noise.Centre - noise.Span), $"{(2 * noise.Span) + 1}u", $"0x{noise.Seed:X}u"), null),
            Lag lag => new LiveView("lag", $"{CText.Comment(field.Name)}: follows {FollowViews.Name(lag.Follow, module)} {(lag.Delay > 0 ? "late" : "slowly")}", c, field.Bits <= 30 ? "int32_t" : "int64_t", null, null,
                new LagView(FollowViews.Of(lag.Follow, module, lag.Follow.Lost, 64), ConditionText.Number(field.WithSign(lag.Follow.Lost)), lag.Delay, lag.Slew is 0 ? "" : ConditionText.Number(lag.Slew))),
            _ => throw new ArgumentOutOfRangeException(nameof(live)),
        };
    }

    private static RampView Of(Ramp ramp) => new(
        ConditionText.Number(ramp.From),
        ConditionText.Number(ramp.To - ramp.From),
        ConditionText.Number(ramp.Steps),
        ConditionText.Number(ramp.Steps / 2),
        ramp.End is RampEnd.Back ? $"{2 * ramp.Steps}u" : "",
        ramp.End switch { RampEnd.Hold => $"{ramp.Steps}u", RampEnd.Repeat => $"{ramp.Steps - 1}u", _ => $"{(2 * ramp.Steps) - 1}u" },
        ramp.End is RampEnd.Hold);

    private static bool Fits(Int128 value) => value > int.MinValue / 2 && value < int.MaxValue / 2;
}
