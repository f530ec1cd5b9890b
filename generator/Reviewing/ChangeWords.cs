namespace Locum.Reviewing;

/// <summary>A change in one line, without its path but for its last part.</summary>
internal static class ChangeWords
{
    public static string Of(Change change)
    {
        var what = change.Label.Length > 0 ? change.Label : change.Path[^1];
        return change.Kind switch
        {
            ChangeKind.Renamed => $"{what}: renamed from {change.Before}",
            ChangeKind.Added when change.Label.Length is 0 => $"{what}{Hint(change.After)}: added",
            ChangeKind.Removed when change.Label.Length is 0 => $"{what}{Hint(change.Before)}: removed",
            _ => $"{what}: {change.Before ?? "none"} → {change.After ?? "none"}",
        };
    }

    private static string Hint(string? hint) => string.IsNullOrEmpty(hint) ? "" : $" ({hint})";
}
