using Locum.Model;

namespace Locum.Capture;

/// <summary>What the name of a column says.</summary>
/// <param name="Role">What the column holds.</param>
/// <param name="Unit">Unit of times; null when the name has none.</param>
/// <param name="Base">How numbers are written; null when the name does not say.</param>
/// <param name="Index">Number of a data byte; -1 for other columns.</param>
internal sealed record HeaderWord(ColumnRole Role, TimeUnit? Unit, NumberBase? Base, int Index);
