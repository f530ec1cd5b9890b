namespace Locum.Capture;

/// <summary>Where the data bytes of a table stand.</summary>
/// <param name="Length">Column of the length; -1 when there is none.</param>
/// <param name="First">Column of all bytes, or of the first.</param>
/// <param name="Packed">All bytes stand in one column.</param>
/// <param name="Columns">Fixed columns of single bytes; 0 when they repeat to the end of the row.</param>
/// <param name="Behind">Columns behind bytes that repeat.</param>
/// <param name="Share">Share of the rows that agree.</param>
internal readonly record struct DataPlace(int Length, int First, bool Packed, int Columns, int Behind, double Share)
{
    /// <summary>Bytes of a row that the length explains, on average.</summary>
    public double Explained { get; init; }
}
