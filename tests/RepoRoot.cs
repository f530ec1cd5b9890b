namespace Locum.Tests;

/// <summary>Finds files of the repository from wherever the tests run.</summary>
internal static class RepoRoot
{
    private static readonly string s_root = Find();

    /// <summary>The full path of a file or folder given by its parts below the repository's root.</summary>
    public static string Path(params string[] parts) => System.IO.Path.Combine([s_root, .. parts]);

    private static string Find()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(System.IO.Path.Combine(folder.FullName, "Locum.slnx")))
                return folder.FullName;
        }

        throw new InvalidOperationException($"No folder above {AppContext.BaseDirectory} holds Locum.slnx.");
    }
}
