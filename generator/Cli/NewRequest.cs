using Locum.Wire;

namespace Locum.Cli;

/// <summary>What the command line of 'locum new' says; null where it says nothing.</summary>
internal sealed record NewRequest(string Folder, string? Board, string? Module, string? Bus, int? Rate, CanId? Id, string? WakeLine, string? Hazard);
