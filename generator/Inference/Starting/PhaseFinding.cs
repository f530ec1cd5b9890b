namespace Locum.Inference.Starting;

/// <summary>Stages through which a module goes after its start.</summary>
/// <param name="EndsUs">When each stage but the last ends, microseconds after the start, rising. Empty when there is one stage.</param>
/// <param name="Evidence">Of each end: starts that show it, of those that could.</param>
public sealed record PhaseFinding(IReadOnlyList<long> EndsUs, IReadOnlyList<Evidence> Evidence)
{
    /// <summary>No stages.</summary>
    public static PhaseFinding None { get; } = new([], []);

    /// <summary>Number of the stage at a time after the start.</summary>
    public int At(long afterUs) => EndsUs.TakeWhile(e => e <= afterUs).Count();
}
