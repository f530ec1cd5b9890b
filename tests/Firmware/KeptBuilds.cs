namespace Locum.Tests.Firmware;

/// <summary>Where tests keep what they build once for a whole run.</summary>
internal static class KeptBuilds
{
    /// <summary>A folder of this run; tests/run removes those of earlier ones.</summary>
    public static string Folder(string name) => Directory.CreateDirectory(RepoRoot.Path("artifacts", "test-builds", $"{Environment.ProcessId}", name)).FullName;
}
