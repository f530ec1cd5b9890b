using Locum.Model;

namespace Locum.Capture;

/// <summary>What a column is taken for.</summary>
/// <param name="Role">The meaning.</param>
/// <param name="Points">How much speaks for it: 3 and more is certain, 2 likely, below a guess.</param>
/// <param name="Reason">What does.</param>
internal sealed record ColumnGuess(ColumnRole Role, int Points, string Reason)
{
    public const int Certain = 3;

    public const int Likely = 2;

    /// <summary>The points as a word.</summary>
    public string Sure => Points >= Certain ? "certain" : Points >= Likely ? "likely" : "a guess";
}
