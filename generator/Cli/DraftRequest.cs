namespace Locum.Cli;

/// <summary>What the user asked 'locum draft' for.</summary>
internal sealed record DraftRequest(
    string[] Captures, string? Layout, string[] Ids, string[] Buses, string[] Without, int? Rate, string? Output, string Format);
