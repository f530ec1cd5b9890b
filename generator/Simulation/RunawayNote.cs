using Locum.Planning;

namespace Locum.Simulation;

/// <summary>An output that switched without end, in words.</summary>
public static class RunawayNote
{
    public static string Of(IReadOnlyList<BoardPlan> plans, OutputChange runaway) =>
        $"output '{plans[runaway.Board].Outputs[runaway.Output].Output.Name}' of board '{plans[runaway.Board].Name}' switches hundreds of times within 1 ms from {runaway.AtUs - 1000} us on";
}
