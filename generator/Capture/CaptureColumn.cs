namespace Locum.Capture;

/// <summary>What a column of a table was taken for.</summary>
/// <param name="Number">From 1; what repeats to the end of a row counts once.</param>
/// <param name="Header">What the header calls it; empty without a header.</param>
/// <param name="Role">What it was taken for, as a layout would say it.</param>
/// <param name="Sure">Certain, likely or a guess.</param>
/// <param name="Reason">Why.</param>
public sealed record CaptureColumn(int Number, string Header, string Role, string Sure, string Reason);
