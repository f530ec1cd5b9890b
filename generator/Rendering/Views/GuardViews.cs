using System.Security.Cryptography;
using System.Text;
using Locum.Planning;

namespace Locum.Rendering.Views;

/// <summary>The guards of a board. Switches are 0 or 1; times in µs; a time to run is laps of 2^30 µs and a rest.</summary>
/// <param name="BusOff">Buses whose bus-offs are counted; 0: none.</param>
/// <param name="Keep">Modules whose modes are kept over a reset; 0: nothing is kept.</param>
/// <param name="Mark">C constant by which a firmware knows what it kept itself.</param>
public sealed record GuardsView(int Any, int Foreign, int BusOff, int Enable, int Run, int Keep, int Resume, string Mark, long WithinUs, long WaitUs, long RunUs, long RunLaps, int Recoveries, int EnableInput)
{
    /// <summary>1 if brown-outs in a row end the switching of outputs.</summary>
    public int BrownOuts { get; init; }

    public int MostBrownOuts { get; init; }

    public long SteadyUs { get; init; }
}

internal static class GuardViews
{
    private const int LapBits = 30;

    public static GuardsView Of(BoardPlan plan)
    {
        var guards = plan.Guards;
        var run = guards.RunAtMostUs ?? 0;
        return new GuardsView(
            guards.Any ? 1 : 0,
            guards.Foreign ? 1 : 0,
            guards.BusOff is null ? 0 : plan.Buses.Count,
            guards.EnableInput is null ? 0 : 1,
            guards.RunAtMostUs is null ? 0 : 1,
            guards.Keeps ? plan.Modules.Count : 0,
            guards.Resumes ? 1 : 0,
            Mark(plan),
            guards.BusOff?.WithinUs ?? 0,
            guards.BusOff?.WaitUs ?? 0,
            run & ((1L << LapBits) - 1),
            run >> LapBits,
            guards.BusOff?.Recoveries ?? 0,
            guards.EnableInput ?? 0)
        {
            BrownOuts = guards.BrownOuts is null ? 0 : 1,
            MostBrownOuts = guards.BrownOuts?.Most ?? 0,
            SteadyUs = guards.BrownOuts?.SteadyUs ?? 0,
        };
    }

    private static string Mark(BoardPlan plan)
    {
        var text = string.Join('\n', plan.Modules.Select(m => m.Module.Hash).Prepend(plan.Name));
        return $"0x{Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(text)).AsSpan(0, 4))}u";
    }
}
