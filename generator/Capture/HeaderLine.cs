namespace Locum.Capture;

/// <summary>The line of column names of a table.</summary>
/// <param name="Line">Where it stands.</param>
/// <param name="Names">One name per column.</param>
/// <param name="Words">What each says; null for names that are not known.</param>
internal sealed record HeaderLine(SampleLine Line, IReadOnlyList<string> Names, IReadOnlyList<HeaderWord?> Words)
{
    public int Known => Words.Count(w => w is not null);
}
