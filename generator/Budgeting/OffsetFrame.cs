namespace Locum.Budgeting;

/// <summary>A cyclic frame whose phase against its group can be chosen. Times in µs.</summary>
/// <param name="Name">For people.</param>
/// <param name="Priority">Lower goes first.</param>
/// <param name="PeriodUs">Distance of releases.</param>
/// <param name="OffsetUs">From the group's start to the first release.</param>
/// <param name="SlotUs">Longest time on the wire with intermission.</param>
public sealed record OffsetFrame(string Name, int Priority, long PeriodUs, long OffsetUs, long SlotUs);
